using System.Diagnostics;
using System.IO.Compression;
using System.Text;
using BackHistory.Application.Archives;
using BackHistory.Formats.Drawings;
using BackHistory.Formats.Meshes;
using BackHistory.Formats.Sheets;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Visits;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Access;

/// <summary>
/// Every parser of what is sent in, fed with what no honest program sends: bounded in number, seeded, each input within a second and
/// within bounds of memory.
/// A parser may refuse; it may not throw, hang or grow.
/// </summary>
public sealed class FuzzTests
{
    private const int Seed = 20261125;
    private const int Inputs = 400;
    private const long MostBytes = 256L << 20;

    private static readonly string[] Grains =
    [
        "NaN",
        "1e999",
        "-1e308",
        "0x10",
        "\0",
        "\uFFFD",
        "\\uD800",
        "\\u0000",
        "9".PadRight(400, '9'),
        "<![CDATA[",
        "&#x0;",
        "<!ENTITY a \"b\">",
        "{\"a\":",
        "[[[[[[[[",
        ",,,,,",
        "\n\n\n",
        "-",
        "%",
        "../../../etc/passwd",
        "\"",
        "'",
        "e",
        "M0 0",
        "vertex 1 2 3",
        "element vertex 4294967295",
    ];

    public static TheoryData<string> Parsers => [.. Known.Keys.Order(StringComparer.Ordinal)];

    private static Dictionary<string, (byte[][] Honest, Action<byte[]> Read)> Known =>
        new(StringComparer.Ordinal)
        {
            ["SVG"] = (
                [
                    Text(
                        """
                        <svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
                        <path id="a" d="M0 50 C 50 0 150 0 200 50 L 200 60 A 5 5 0 0 1 190 70"/><polyline points="0,0 10,5 20,0"/></svg>
                        """
                    ),
                ],
                b => ContourImport.Read(ContourFormat.Svg, b)
            ),
            ["DXF"] = (
                [
                    Text(
                        "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nback\n90\n3\n70\n0\n"
                            + "10\n0.0\n20\n0.0\n10\n50.0\n20\n20.0\n10\n100.0\n20\n0.0\n"
                            + "0\nARC\n8\n0\n10\n0\n20\n0\n40\n50\n50\n0\n51\n90\n0\nENDSEC\n0\nEOF\n"
                    ),
                ],
                b => ContourImport.Read(ContourFormat.Dxf, b)
            ),
            ["CSV of a contour"] = ([Text("x_mm,y_mm\n-100,0\n0,30.5\n100,0\n")], b => ContourImport.Read(ContourFormat.Csv, b)),
            ["CSV of a visit"] = (
                [Text("x_mm,y_mm\n-100,0\n0,30.5\n100,0\n"), Text("x_mm,y_mm\r\n\"1\",\"2\"\r\n")],
                b => TracingTable.Read(b, TracingKind.CrossSection, "shoulder", 1, 1000)
            ),
            ["OBJ"] = ([Text("v 0 0 0\nv 1 0 0\nv 0 1 0\nvn 0 0 1\nf 1 2 3\nf 1//1 2//1 3//1\n")], b => MeshImport.Read(MeshFormat.Obj, b)),
            ["PLY"] = (
                [
                    Text(
                        "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face "
                            + "1\nproperty list uchar int vertex_indices\nend_header\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"
                    ),
                ],
                b => MeshImport.Read(MeshFormat.Ply, b)
            ),
            ["STL as text"] = (
                [
                    Text(
                        "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid a\n"
                    ),
                ],
                b => MeshImport.Read(MeshFormat.Stl, b)
            ),
            ["STL as bytes"] = ([BinaryStl()], b => MeshImport.Read(MeshFormat.Stl, b)),
            ["JSON of a tracing"] = (
                [
                    Text(
                        """
                        {"kind":"cross-section","station":"shoulder","unit":"mm","yAxis":"up","noise":0.5,"points":[[-100,0],[0,30.5],
                        [100,0]],"marks":{"muscle-junction-left":[-70,-30]}}
                        """
                    ),
                ],
                b => TracingJson.Read(b)
            ),
            ["JSON of a visit"] = (
                [
                    Text(
                        """
                        {"takenAt":"2025-05-01T10:00:00Z","method":"flexible-curve","conditions":{"levelGround":true},
                        "entries":[{"kind":"weight","value":500,"unit":"kg"},{"kind":"girth","girth":190,"length":170,"unit":"cm"},
                        {"kind":"muscle","site":"back","score":2}]}
                        """
                    ),
                ],
                Visit
            ),
            ["XLSX"] = ([Book()], b => Sheet.Read(b, null)),
            ["XML inside an XLSX"] = ([Inside()], b => Sheet.Read(Repacked(b), null)),
            ["strings and styles inside an XLSX"] = (
                [
                    Text(
                        """
                        <sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="2" uniqueCount="2"><si>
                        <t>Bramble</t></si><si><r><t>This</t></r><r><t>tle</t></r></si></sst>
                        """
                    ),
                ],
                b => Sheet.Read(WithStrings(b), null)
            ),
            ["CSV of a spreadsheet"] = (
                [Text("Name;Born;Height\r\nBramble;2015-03-04;160,5\r\n\"Thi\"\"stle\";;=1+1\r\n")],
                b => Sheet.Read(b, null)
            ),
            ["PNG"] = ([Picture.Png(4000, 3000, 1, 2, 3)], b => FileBytes.From(b)),
            ["JPEG"] = ([Picture.Jpeg(4000, 3000, 1, 2, 3)], b => FileBytes.From(b)),
            ["WebP"] = (
                [Picture.WebP("VP8X", 4000, 3000), Picture.WebP("VP8L", 400, 300), Picture.WebP("VP8 ", 400, 300)],
                b => FileBytes.From(b)
            ),
            ["PLY as bytes"] = ([BinaryPly()], b => MeshImport.Read(MeshFormat.Ply, b)),
            ["lines of an archive"] = ([Text("{\"position\":1}\n{\"position\":2}\r\n\n{\"position\":3}")], Lines),
            ["a passkey's answer"] = ([Text("""{"response":{"clientDataJSON":"eyJjaGFsbGVuZ2UiOiJhIn0"}}""")], PasskeyAnswer),
            ["a place in a list"] = (
                [Text(Paging.Write(("Name", Guid.Empty)))],
                b => Paging.Read<(string Name, Guid Id)>(Encoding.UTF8.GetString(b))
            ),
        };

    [Theory]
    [MemberData(nameof(Parsers))]
    public void A_parser_refuses_what_it_cannot_read_at_once_and_in_words(string parser)
    {
        var (honest, read) = Known[parser];
        var random = new Random(Seed);
        foreach (var file in honest)
            read(file);
        for (var i = 0; i < Inputs; i++)
        {
            var input = Spoil(honest[random.Next(honest.Length)], random);
            var (before, from) = (GC.GetAllocatedBytesForCurrentThread(), Stopwatch.GetTimestamp());
            try
            {
                read(input);
            }
            catch (Exception e)
            {
                Assert.Fail(
                    $"{parser}, input {i} of seed {Seed} ({Convert.ToBase64String(input[..Math.Min(input.Length, 300)])}): "
                        + $"{e.GetType().Name}: {e.Message}"
                );
            }

            Assert.True(
                Stopwatch.GetElapsedTime(from) < Patience,
                $"{parser}, input {i} of seed {Seed} took {Stopwatch.GetElapsedTime(from)}"
            );
            Assert.True(
                GC.GetAllocatedBytesForCurrentThread() - before < MostBytes,
                $"{parser}, input {i} of seed {Seed} took {(GC.GetAllocatedBytesForCurrentThread() - before) >> 20} MB"
            );
        }
    }

    [Theory]
    [MemberData(nameof(Parsers))]
    public void A_parser_stands_a_file_that_is_nothing_but_size(string parser)
    {
        var (_, read) = Known[parser];
        foreach (var one in new byte[] { (byte)'[', (byte)'{', (byte)' ', (byte)'\n', (byte)'9', (byte)'<', 0, 0xFF })
        {
            var input = new byte[1 << 20];
            Array.Fill(input, one);
            var from = Stopwatch.GetTimestamp();
            var refused = Record.Exception(() => read(input));
            Assert.True(refused is null, $"{parser}, a megabyte of 0x{one:X2}: {refused}");
            Assert.True(
                Stopwatch.GetElapsedTime(from) < 5 * Patience,
                $"{parser}, a megabyte of 0x{one:X2} took {Stopwatch.GetElapsedTime(from)}"
            );
        }
    }

    [Theory]
    [InlineData("xl/worksheets/sheet1.xml")]
    [InlineData("xl/sharedStrings.xml")]
    [InlineData("docProps/anything.bin")]
    public void A_workbook_that_unpacks_to_gigabytes_is_refused_before_it_is_opened(string part)
    {
        var bomb = Bomb(part);
        Assert.True(bomb.Length < 2 << 20, $"the bomb itself is {bomb.Length} bytes");
        var (before, from) = (GC.GetAllocatedBytesForCurrentThread(), Stopwatch.GetTimestamp());
        var refused = Sheet.Read(bomb, null).Refused;
        Assert.Equal("unpacks-too-large", refused?.Code);
        Assert.EndsWith(".", refused!.Message, StringComparison.Ordinal);
        Assert.True(
            GC.GetAllocatedBytesForCurrentThread() - before < 16 << 20,
            $"refusing it took {(GC.GetAllocatedBytesForCurrentThread() - before) >> 20} MB"
        );
        Assert.True(Stopwatch.GetElapsedTime(from) < 5 * Patience, $"refusing it took {Stopwatch.GetElapsedTime(from)}");
    }

    [Fact]
    public void A_workbook_that_says_less_of_its_size_than_it_has_is_not_read_beyond_what_it_says()
    {
        var bomb = Bomb("xl/worksheets/sheet1.xml");
        // Both places in which a zip names the unpacked size of a part: before the part, and in the list at the end.
        var size = BitConverter.GetBytes(Blown);
        var places = 0;
        for (var at = 0; at + 4 <= bomb.Length; at++)
        {
            if (!bomb.AsSpan(at, 4).SequenceEqual(size))
                continue;
            BitConverter.TryWriteBytes(bomb.AsSpan(at), 100);
            places++;
        }

        Assert.True(places >= 1, "nothing was lied about");
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.NotNull(Sheet.Read(bomb, null).Refused);
        Assert.True(
            GC.GetAllocatedBytesForCurrentThread() - before < MostBytes,
            $"refusing it took {(GC.GetAllocatedBytesForCurrentThread() - before) >> 20} MB"
        );
    }

    private const int Blown = 300 << 20;

    /// <summary>A workbook one part of which is 300 MB of nothing.</summary>
    private static byte[] Bomb(string part)
    {
        using var memory = new MemoryStream();
        memory.Write(Book());
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
            zip.GetEntry(part)?.Delete();
        // Added to the rest as it is written: an archive that is changed in place would be held in memory.
        using var bomb = new MemoryStream();
        using (var to = new ZipArchive(bomb, ZipArchiveMode.Create, leaveOpen: true))
        {
            using (var from = new ZipArchive(memory, ZipArchiveMode.Read, leaveOpen: true))
            {
                foreach (var entry in from.Entries)
                {
                    using var source = entry.Open();
                    using var target = to.CreateEntry(entry.FullName).Open();
                    source.CopyTo(target);
                }
            }

            using var blown = to.CreateEntry(part, CompressionLevel.SmallestSize).Open();
            var nothing = new byte[1 << 20];
            for (var i = 0; i < Blown >> 20; i++)
                blown.Write(nothing);
        }

        return bomb.ToArray();
    }

    /// <summary>A second of this thread's own; machines that are shared stop a thread for longer than it works.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    private static void Visit(byte[] body)
    {
        var (request, _) = Bodies.As<VisitRequest>(body);
        if (request is null)
            return;
        var number = 0;
        var (entries, refused) = EntryReader.Read(request.Entries, () => new Guid(++number, 0, 0, new byte[8]));
        if (refused is not null)
            return;
        var horse = Horse.After(
            null,
            new HorseRegistered(Guid.Empty, "Fuzzed", null, null, null, null, null, null, null, DateTimeOffset.UnixEpoch, Guid.Empty)
        );
        HorseDecider.Decide(
            horse,
            new RecordVisit(
                request.Id ?? Guid.Empty,
                request.TakenAt,
                Guid.Empty,
                request.Conditions ?? new VisitConditions(),
                request.Method,
                1,
                entries
            ),
            DateTimeOffset.UnixEpoch.AddYears(56)
        );
    }

    private static byte[] Spoil(byte[] honest, Random random)
    {
        var bytes = new List<byte>(honest);
        for (var changes = random.Next(1, 6); changes > 0; changes--)
        {
            var at = random.Next(bytes.Count + 1);
            switch (random.Next(7))
            {
                case 0 when at < bytes.Count:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1:
                    bytes.Insert(at, (byte)random.Next(256));
                    break;
                case 2:
                    bytes.InsertRange(at, Encoding.UTF8.GetBytes(Grains[random.Next(Grains.Length)]));
                    break;
                case 3 when at < bytes.Count:
                    bytes.RemoveRange(at, random.Next(1, bytes.Count - at + 1));
                    break;
                case 4 when at < bytes.Count:
                    bytes.InsertRange(at, bytes.GetRange(at, random.Next(1, bytes.Count - at + 1)));
                    break;
                case 5:
                    bytes.InsertRange(at, Enumerable.Repeat((byte)"[{<(0 "[random.Next(6)], random.Next(1, 5000)));
                    break;
                default:
                    var noise = new byte[random.Next(1, 64)];
                    random.NextBytes(noise);
                    bytes.InsertRange(at, noise);
                    break;
            }
        }

        return [.. bytes];
    }

    /// <summary>Horses in a workbook, with a day, a formula and an empty cell.</summary>
    private static byte[] Book() =>
        Workbook.Of(
            [
                [Workbook.Text("Name"), Workbook.Text("Born"), Workbook.Text("Height")],
                [Workbook.Text("Bramble"), Workbook.Day(new DateOnly(2015, 3, 4)), Workbook.Number(160.5)],
                [Workbook.Text("Thistle"), Workbook.Nothing, Workbook.Formula("80*2", 160)],
            ],
            merged: "A3:B3"
        );

    /// <summary>The sheet's own XML: spoilt bytes of a compressed file rarely get as far as its reader.</summary>
    private static byte[] Inside()
    {
        using var zip = new ZipArchive(new MemoryStream(Book()));
        using var sheet = zip.GetEntry("xl/worksheets/sheet1.xml")!.Open();
        using var memory = new MemoryStream();
        sheet.CopyTo(memory);
        return memory.ToArray();
    }

    private static byte[] Repacked(byte[] sheet) => Changed("xl/worksheets/sheet1.xml", sheet);

    /// <summary>The same workbook, with these shared strings under its first cell, and these bytes for its styles.</summary>
    private static byte[] WithStrings(byte[] strings)
    {
        var relations = """
            <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1"
            Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>
            <Relationship Id="r2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles"
            Target="styles.xml"/><Relationship Id="r3"
            Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/>
            </Relationships>
            """;
        var sheet = """
            <worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="s"><v>0</v>
            </c></row><row r="2"><c r="A2" t="s"><v>1</v></c></row></sheetData></worksheet>
            """;
        var types = """
            <Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
            <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
            <Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml"
            ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
            <Override PartName="/xl/worksheets/sheet1.xml"
            ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
            <Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>
            <Override PartName="/xl/sharedStrings.xml"
            ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>
            """;
        var book = Changed(
            "xl/_rels/workbook.xml.rels",
            Text(relations),
            ("xl/worksheets/sheet1.xml", Text(sheet)),
            ("[Content_Types].xml", Text(types)),
            ("xl/sharedStrings.xml", strings)
        );
        return strings.Length % 3 == 0 ? Changed(book, "xl/styles.xml", strings) : book;
    }

    private static byte[] Changed(string name, byte[] bytes, params (string Name, byte[] Bytes)[] more)
    {
        var book = Changed(Book(), name, bytes);
        foreach (var (other, its) in more)
            book = Changed(book, other, its);
        return book;
    }

    private static byte[] Changed(byte[] book, string name, byte[] bytes)
    {
        using var memory = new MemoryStream();
        memory.Write(book);
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
        {
            zip.GetEntry(name)?.Delete();
            using var part = zip.CreateEntry(name, CompressionLevel.NoCompression).Open();
            part.Write(bytes);
        }

        return memory.ToArray();
    }

    /// <summary>A line that is too long is the one thing that an archive's reader is told by an exception; ArchiveReader makes a refusal
    /// of it.</summary>
    private static void Lines(byte[] bytes)
    {
        async Task Read()
        {
            try
            {
                await foreach (var line in ArchiveLines.Read(new MemoryStream(bytes, writable: false), 4096, CancellationToken.None))
                    Assert.True(line.Text.Length <= 4096);
            }
            catch (InvalidDataException)
            {
                // Said by ArchiveReader in words.
            }
        }

        // Over bytes in memory nothing waits for anything.
        Read().GetAwaiter().GetResult();
    }

    private static void PasskeyAnswer(byte[] bytes)
    {
        using var challenges = new PasskeyChallenges();
        challenges.Once(Encoding.UTF8.GetString(bytes));
    }

    private static byte[] BinaryPly() =>
        [
            .. "ply\nformat binary_little_endian 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n"u8,
            .. "element face 1\nproperty list uchar int vertex_indices\nend_header\n"u8,
            .. new byte[36],
            3,
            0,
            0,
            0,
            0,
            1,
            0,
            0,
            0,
            2,
            0,
            0,
            0,
        ];

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] BinaryStl()
    {
        var bytes = new byte[80 + 4 + 50];
        BitConverter.TryWriteBytes(bytes.AsSpan(80), 1);
        BitConverter.TryWriteBytes(bytes.AsSpan(84 + 12 + 12), 1f);
        BitConverter.TryWriteBytes(bytes.AsSpan(84 + 12 + 28), 1f);
        return bytes;
    }
}
