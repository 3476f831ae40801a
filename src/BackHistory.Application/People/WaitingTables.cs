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
            var places = sheet is null ? null : Places(sheet, names);
            if (places is { Count: 0 })
                continue;
            var why = places is null
                ? "This table waits and cannot be read now; it may name this person. Take it back, or look through it."
                : "This table waits and names this person. Take it back, and send it in without the lines.";
            var words = places is null ? import.Name : $"{import.Name}: {string.Join(", ", places)}";
            left.Add(new LeftBehind("table", import.Id, null, words, why));
        }

        return left;
    }

    /// <summary>Where in the table the names stand: in the header, and in the lines under it and the titles above it.</summary>
    private static List<string> Places(Sheet sheet, NameWords names)
    {
        var titles = sheet.PassedOver.Where(t => names.StandIn(t.Text)).Select(t => t.Line);
        var rows = sheet.Rows.Where(r => r.Cells.Any(c => names.StandIn(c.Text))).Select(r => r.Line);
        var lines = titles.Concat(rows).Order().Take(20).ToList();
        var places = new List<string>();
        if (sheet.Headers.Any(names.StandIn))
            places.Add("the header");
        if (lines.Count > 0)
            places.Add($"lines {string.Join(", ", lines)}");
        return places;
    }
}
