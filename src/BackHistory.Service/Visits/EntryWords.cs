using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

/// <summary>An entry of a visit in words.</summary>
internal static class EntryWords
{
    /// <summary>What was entered, without its value.</summary>
    public static string Name(EntryRecord entry, Formatter say) =>
        entry.Kind switch
        {
            "cross-section" => $"Cross-section, {say.Station(entry.Station)}",
            "topline" => "Topline",
            "girth" => "Girth and length",
            "height" => "Height",
            "note" => "Note",
            _ => entry.Measures is [var row, ..] ? say.Subject(row.Key, row.Station) : entry.Kind,
        };

    /// <summary>The number that was entered or follows from it; null where a tracing or words were.</summary>
    public static string? Value(EntryRecord entry, Formatter say) =>
        entry.Kind is "cross-section" or "topline" or "note" || entry.Measures is not [{ Value: { } value } row, ..]
            ? null
            : say.Number(value, row.Unit) + (row.Why == "estimate" ? " (estimate)" : "");
}
