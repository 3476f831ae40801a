using BackHistory.Formats.Sheets;
using BackHistory.Store.Erasing;
using BackHistory.Store.Imports;

namespace BackHistory.Application.People;

/// <summary>Spreadsheets that were sent in and not entered yet: they may name whoever was erased, and they are somebody's work.</summary>
internal static class WaitingTables
{
    public static async Task<IReadOnlyList<LeftBehind>> Naming(ImportStore imports, string practice, NameWords names, CancellationToken ct)
    {
        var left = new List<LeftBehind>();
        foreach (var import in (await imports.All(practice, ct)).Where(i => i.File is not null))
        {
            if (await imports.Bytes(practice, import, ct) is not { } bytes)
                continue;
            var (sheet, _) = Sheet.Read(bytes, import.Sheet);
            var lines = sheet?.Rows.Where(r => r.Cells.Any(c => names.StandIn(c.Text))).Select(r => r.Line).ToList();
            if (lines is { Count: 0 })
                continue;
            var why = lines is null
                ? "This table waits and cannot be read now; it may name this person. Take it back, or look through it."
                : "This table waits and names this person. Take it back, and send it in without the lines.";
            var words = lines is null ? import.Name : $"{import.Name}: lines {string.Join(", ", lines.Take(20))}";
            left.Add(new LeftBehind("table", import.Id, null, words, why));
        }

        return left;
    }
}
