using System.IO.Compression;
using System.Text;

namespace BackHistory.Attack.Tests.Hostile;

/// <summary>Files that are none, or too much of one.</summary>
internal static class HostileFiles
{
    /// <summary>For any place that takes a file, whatever it should be.</summary>
    public static IReadOnlyList<byte[]> All { get; } =
    [
        [],
        [0],
        [0xff, 0xfe, 0x00, 0xd8],
        "\0\0\0\0"u8.ToArray(),
        "x_mm,y_mm\n1,2\0\n"u8.ToArray(),
        "x_mm,y_mm\nNaN,Infinity\n1e308,-1e308\n1e-320,1e155\n"u8.ToArray(),
        Bytes("x_mm,y_mm\n" + string.Concat(Enumerable.Range(0, 600_000).Select(i => $"{i % 10},{i % 7}\n"))),
        Bytes(string.Join(',', Enumerable.Repeat("a", 100_000)) + "\n" + string.Join(',', Enumerable.Repeat("b", 100_000))),
        Bytes($"name\n\"{new string('n', 1 << 20)}\"\n"),
        "name,name\n\"open\n"u8.ToArray(),
        "name\n=cmd|' /C calc'!A0\n"u8.ToArray(),
        Bytes($"{new string('[', 100_000)}"),
        // Lone surrogates as CESU-8: no UTF-8.
        [.. "x_mm,y_mm\n"u8, 0xed, 0xa0, 0x80, (byte)','],
        "<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M1e308 1e308L-1e308-1e308\"/></svg>"u8.ToArray(),
        "<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0L1e999 NaN\"/></svg>"u8.ToArray(),
        """
        <!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]><svg>&c;</svg>
        """u8.ToArray(),
        "<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/passwd\">]><svg>&x;</svg>"u8.ToArray(),
        Bytes(string.Concat(Enumerable.Repeat("<g>", 50_000))),
        Bytes(
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 0 0\">"
                + $"<g transform=\"{string.Concat(Enumerable.Repeat("scale(1e30)", 20))}\">"
                + "<polyline points=\"0,0 1,1 2,2\"/></g></svg>"
        ),
        "<svg xmlns=\"http://www.w3.org/2000/svg\"><g id=\"a\"><use href=\"#a\"/></g></svg>"u8.ToArray(),
        "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n1e308\n20\nNaN\n11\n-1e308\n21\n1e155\n0\nENDSEC\n0\nEOF\n"u8.ToArray(),
        "0\nSECTION\n2\nENTITIES\n0\nSPLINE\n71\n2147483647\n72\n2147483647\n73\n2147483647\n0\nENDSEC\n0\nEOF\n"u8.ToArray(),
        "v 1e308 1e308 1e308\nv NaN 0 0\nv 0 0 Infinity\nf 1 2 3\nf 1 2 2147483647\nf -1 -2 -9999999\n"u8.ToArray(),
        "ply\nformat ascii 1.0\nelement vertex 2147483647\nproperty float x\nend_header\n"u8.ToArray(),
        [.. new byte[80], 0xff, 0xff, 0xff, 0xff],
        [.. "PK"u8, 3, 4, 0, 0, 0, 0],
        Zip(("manifest.json", "{}")),
        Zip(("manifest.json", "null"), ("events.jsonl", "null\n")),
        Zip(("manifest.json", "{"), ("events.jsonl", "{\"position\":1e308}\n")),
        Zip(("../../../../tmp/attack", "x"), ("events.jsonl", "\0")),
        Zip(("xl/workbook.xml", "<workbook/>"), ("[Content_Types].xml", "<Types/>")),
        Zip(("xl/worksheets/sheet1.xml", new string(' ', 60 << 20))),
        Zip(("events.jsonl", new string('\n', 60 << 20)), ("manifest.json", new string(' ', 60 << 20))),
        "MIME-Version: 1.0\r\nContent-Type: multipart/report; boundary=\"b\"\r\n\r\n--b\r\n--b\r\n"u8.ToArray(),
        Bytes(string.Concat(Enumerable.Range(0, 3000).Select(i => $"Content-Type: multipart/mixed; boundary=\"b{i}\"\r\n\r\n--b{i}\r\n"))),
        "\x89PNG\r\n\x1a\n"u8.ToArray(),
        [0xff, 0xd8, 0xff, 0xe0, 0xff, 0xff],
        "%PDF-1.7\n"u8.ToArray(),
        // One byte more than a request may bring.
        new byte[(8 << 20) + 1],
    ];

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] Zip(params (string Name, string Text)[] entries)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in entries)
            {
                using var writer = new StreamWriter(zip.CreateEntry(name).Open());
                writer.Write(text);
            }
        }

        return memory.ToArray();
    }
}
