using System.IO.Compression;
using BackHistory.Shape;

namespace BackHistory.Formats.Sheets;

/// <summary>Looks at a workbook from outside, before anything in it is read.</summary>
internal static class XlsxSafety
{
    private const int MostParts = 2000;

    public static Refusal? Problem(byte[] bytes)
    {
        try
        {
            using var archive = new ZipArchive(new MemoryStream(bytes, writable: false), ZipArchiveMode.Read);
            if (archive.Entries.Count > MostParts)
                return SheetRefusals.Bomb;
            if (archive.GetEntry("xl/workbook.xml") is null || archive.GetEntry("[Content_Types].xml") is null)
                return SheetRefusals.NotAWorkbook;
            if (
                archive.Entries.Any(e =>
                    e.FullName.EndsWith("vbaProject.bin", StringComparison.OrdinalIgnoreCase)
                    || e.FullName.Contains("/macrosheets/", StringComparison.OrdinalIgnoreCase)
                )
            )
                return SheetRefusals.Macros;
            return Unpacked(archive) > SheetLimits.MostUnpacked ? SheetRefusals.Bomb : null;
        }
        catch (InvalidDataException)
        {
            return SheetRefusals.NotAWorkbook;
        }
    }

    /// <summary>What an archive says of its own sizes may be a lie: counted by unpacking, up to the limit.</summary>
    private static long Unpacked(ZipArchive archive)
    {
        var buffer = new byte[1 << 16];
        var total = 0L;
        foreach (var entry in archive.Entries)
        {
            if (total + entry.Length > SheetLimits.MostUnpacked)
                return total + entry.Length;
            using var stream = entry.Open();
            int read;
            while ((read = stream.Read(buffer)) > 0)
            {
                total += read;
                if (total > SheetLimits.MostUnpacked)
                    return total;
            }
        }

        return total;
    }
}
