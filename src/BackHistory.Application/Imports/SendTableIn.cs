using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.History.Files;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>An old table is sent in: it is read and kept, and nothing of it is entered.</summary>
public sealed class SendTableIn(ImportStore imports, ParsedSheets sheets) : IAct
{
    private const int LongestName = 120;

    public static Right Needs => Right.Manage;

    /// <param name="Name">Of the file, for people.</param>
    /// <param name="Sheet">Which sheet of a workbook; the first when null.</param>
    public sealed record Input(Guid ImportId, string? Name, string? Sheet, byte[] File);

    /// <returns>The table as it was read, or why it was not kept.</returns>
    public async Task<(Sheet? Read, Refused? Refused)> Do(Input table, Caller by, CancellationToken ct)
    {
        if (table.Name?.Length > LongestName)
            return (null, new Refused("long-name", $"Keep the file's name under {LongestName} letters.", Place: "name"));
        var (read, unreadable) = Sheet.Read(table.File, table.Sheet);
        if (unreadable is not null)
            return (null, SheetLine.Refusing(unreadable));
        var (practice, who, now) = (by.Context.Tenant, by.Context.Actor, by.Context.Now);
        var import = new Import(table.ImportId, table.Name ?? "spreadsheet", await imports.TakenBack(practice, ct), now, who)
        {
            Sheet = table.Sheet,
            Lines = read!.Rows.Count,
        };
        var kept = await imports.Keep(practice, import, table.File, ct);
        // Under a key that was used before lies what came with it then.
        if (kept.File is { } hash && hash == FileBytes.Spreadsheet(table.ImportId, table.File).Hash && kept.Sheet == table.Sheet)
            sheets.Keep(hash, table.Sheet, read);
        return (read, null);
    }
}
