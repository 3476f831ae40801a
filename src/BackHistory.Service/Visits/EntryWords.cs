using System.Globalization;
using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

/// <summary>An entry of a visit in words.</summary>
internal static class EntryWords
{
    private const double MillimetresPerCentimetre = 10;

    /// <summary>What was entered, without its value.</summary>
    public static string Name(EntryRecord entry, Formatter say) =>
        entry.Kind switch
        {
            "cross-section" => $"Cross-section, {say.Station(entry.Station)}",
            "topline" => "Topline",
            "girth" => "Girth and length",
            "height" => "Height",
            "weight" => "Weight on a scale",
            "note" => "Note",
            _ => entry.Measures is [var row, ..] ? say.Subject(row.Key, row.Station) : entry.Kind,
        };

    /// <summary>A weight from a scale as it was typed: nothing is rounded away from what somebody put in.</summary>
    private static string Weighed(double kilograms) => string.Create(CultureInfo.InvariantCulture, $"{kilograms:0.#} kg");

    /// <summary>Girth and length as they were taken: the entry's number is the weight that follows from them.</summary>
    public static string Taped(GirthTaped taped) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"girth {taped.GirthMm / MillimetresPerCentimetre:0.#} cm, length {taped.LengthMm / MillimetresPerCentimetre:0.#} cm"
        );

    /// <summary>The number that was entered or follows from it; null where a tracing or words were.</summary>
    public static string? Value(EntryRecord entry, Formatter say) =>
        entry.Kind is "cross-section" or "topline" or "note" || entry.Measures is not [{ Value: { } value } row, ..]
            ? null
            : (row is { Unit: "kg", Why: not "estimate" } ? Weighed(value) : say.Number(value, row.Unit))
                + (row.Why == "estimate" ? " (estimate)" : "");
}
