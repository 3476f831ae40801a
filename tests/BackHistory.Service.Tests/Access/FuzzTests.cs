using System.Diagnostics;
using System.Text;
using BackHistory.History.Horses;
using BackHistory.Service.Visits;
using BackHistory.Service.Web;
using BackHistory.Shape;

namespace BackHistory.Service.Tests.Access;

/// <summary>
/// Every parser of what is sent in, fed with what no honest program sends: bounded in number, seeded, each input within a second and within bounds of memory.
/// A parser may refuse; it may not throw, hang or grow.
/// </summary>
public sealed class FuzzTests
{
    private const int Seed = 20261125;
    private const int Inputs = 400;
    private const long MostBytes = 256L << 20;

    private static readonly string[] Grains = ["NaN", "1e999", "-1e308", "0x10", "\0", "\uFFFD", "\\uD800", "\\u0000", "9".PadRight(400, '9'), "<![CDATA[", "&#x0;", "<!ENTITY a \"b\">", "{\"a\":", "[[[[[[[[", ",,,,,", "\n\n\n", "-", "%", "../../../etc/passwd", "\"", "'", "e", "M0 0", "vertex 1 2 3", "element vertex 4294967295"];

    public static TheoryData<string> Parsers => [.. Known.Keys.Order(StringComparer.Ordinal)];

    private static Dictionary<string, (byte[][] Honest, Action<byte[]> Read)> Known => new(StringComparer.Ordinal)
    {
        ["SVG"] = ([Text("""<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"><path id="a" d="M0 50 C 50 0 150 0 200 50 L 200 60 A 5 5 0 0 1 190 70"/><polyline points="0,0 10,5 20,0"/></svg>""")], b => ContourImport.Read(ContourFormat.Svg, b)),
        ["DXF"] = ([Text("0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nback\n90\n3\n70\n0\n10\n0.0\n20\n0.0\n10\n50.0\n20\n20.0\n10\n100.0\n20\n0.0\n0\nARC\n8\n0\n10\n0\n20\n0\n40\n50\n50\n0\n51\n90\n0\nENDSEC\n0\nEOF\n")], b => ContourImport.Read(ContourFormat.Dxf, b)),
        ["CSV of a contour"] = ([Text("x_mm,y_mm\n-100,0\n0,30.5\n100,0\n")], b => ContourImport.Read(ContourFormat.Csv, b)),
        ["CSV of a visit"] = ([Text("x_mm,y_mm\n-100,0\n0,30.5\n100,0\n"), Text("x_mm,y_mm\r\n\"1\",\"2\"\r\n")], b => CsvTracing.Read(b, TracingKind.CrossSection, "shoulder", 1)),
        ["OBJ"] = ([Text("v 0 0 0\nv 1 0 0\nv 0 1 0\nvn 0 0 1\nf 1 2 3\nf 1//1 2//1 3//1\n")], b => MeshImport.Read(MeshFormat.Obj, b)),
        ["PLY"] = ([Text("ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n")], b => MeshImport.Read(MeshFormat.Ply, b)),
        ["STL as text"] = ([Text("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid a\n")], b => MeshImport.Read(MeshFormat.Stl, b)),
        ["STL as bytes"] = ([BinaryStl()], b => MeshImport.Read(MeshFormat.Stl, b)),
        ["JSON of a tracing"] = ([Text("""{"kind":"cross-section","station":"shoulder","unit":"mm","yAxis":"up","noise":0.5,"points":[[-100,0],[0,30.5],[100,0]],"marks":{"muscle-junction-left":[-70,-30]}}""")], b => TracingJson.Read(b)),
        ["JSON of a visit"] = ([Text("""{"takenAt":"2025-05-01T10:00:00Z","method":"flexible-curve","conditions":{"levelGround":true},"entries":[{"kind":"weight","value":500,"unit":"kg"},{"kind":"girth","girth":190,"length":170,"unit":"cm"},{"kind":"muscle","site":"back","score":2}]}""")], Visit),
        ["a place in a list"] = ([Text(Paging.Write(("Name", Guid.Empty)))], b => Paging.Read<(string Name, Guid Id)>(Encoding.UTF8.GetString(b))),
    };

    [Theory]
    [MemberData(nameof(Parsers))]
    public void A_parser_refuses_what_it_cannot_read_at_once_and_in_words(string parser)
    {
        var (honest, read) = Known[parser];
        var random = new Random(Seed);
        foreach (var file in honest) read(file);
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
                Assert.Fail($"{parser}, input {i} of seed {Seed} ({Convert.ToBase64String(input[..Math.Min(input.Length, 300)])}): {e.GetType().Name}: {e.Message}");
            }

            Assert.True(Stopwatch.GetElapsedTime(from) < Patience, $"{parser}, input {i} of seed {Seed} took {Stopwatch.GetElapsedTime(from)}");
            Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < MostBytes, $"{parser}, input {i} of seed {Seed} took {(GC.GetAllocatedBytesForCurrentThread() - before) >> 20} MB");
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
            Assert.True(Stopwatch.GetElapsedTime(from) < 5 * Patience, $"{parser}, a megabyte of 0x{one:X2} took {Stopwatch.GetElapsedTime(from)}");
        }
    }

    /// <summary>A second of this thread's own; machines that are shared stop a thread for longer than it works.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    private static void Visit(byte[] body)
    {
        var (request, _) = Bodies.As<VisitRequest>(body);
        if (request is null) return;
        var number = 0;
        var (entries, refused) = EntryReader.Read(request.Entries, () => new Guid(++number, 0, 0, new byte[8]));
        if (refused is not null) return;
        var horse = Horse.Create(new HorseRegistered(Guid.Empty, "Fuzzed", null, null, null, null, null, null, null, DateTimeOffset.UnixEpoch, Guid.Empty));
        HorseDecider.Decide(horse, new RecordVisit(request.Id ?? Guid.Empty, request.TakenAt, Guid.Empty, request.Conditions ?? new VisitConditions(), request.Method, 1, entries), DateTimeOffset.UnixEpoch.AddYears(56));
    }

    private static byte[] Spoil(byte[] honest, Random random)
    {
        var bytes = new List<byte>(honest);
        for (var changes = random.Next(1, 6); changes > 0; changes--)
        {
            var at = random.Next(bytes.Count + 1);
            switch (random.Next(7))
            {
                case 0 when at < bytes.Count: bytes[at] ^= (byte)(1 << random.Next(8)); break;
                case 1: bytes.Insert(at, (byte)random.Next(256)); break;
                case 2: bytes.InsertRange(at, Encoding.UTF8.GetBytes(Grains[random.Next(Grains.Length)])); break;
                case 3 when at < bytes.Count: bytes.RemoveRange(at, random.Next(1, bytes.Count - at + 1)); break;
                case 4 when at < bytes.Count: bytes.InsertRange(at, bytes.GetRange(at, random.Next(1, bytes.Count - at + 1))); break;
                case 5: bytes.InsertRange(at, Enumerable.Repeat((byte)"[{<(0 "[random.Next(6)], random.Next(1, 5000))); break;
                default:
                    var noise = new byte[random.Next(1, 64)];
                    random.NextBytes(noise);
                    bytes.InsertRange(at, noise);
                    break;
            }
        }

        return [.. bytes];
    }

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
