using System.Globalization;
using BackHistory.History;

namespace BackHistory.Service.Visits;

/// <summary>Reads the numbers of a visit's form; every field that cannot be taken is named, all at once and in a person's words.</summary>
internal sealed class EntryFields
{
    private readonly Dictionary<string, string> wrong = new(StringComparer.Ordinal);

    /// <summary>Why, by the field's id.</summary>
    public IReadOnlyDictionary<string, string> Wrong => wrong;

    public bool AllRead => wrong.Count == 0;

    public void Say(string field, string why) => wrong[field] = why;

    /// <param name="range">In the unit that is kept.</param>
    /// <param name="factor">From what is typed to the unit that is kept.</param>
    /// <param name="unit">Of what is typed, with a space before it where one stands there.</param>
    /// <returns>In the unit that is kept; null where nothing was typed, or nothing that can be taken.</returns>
    public double? Number(
        string field,
        string label,
        string? typed,
        PlausibleRange range,
        string unit,
        double factor = 1,
        bool half = false
    )
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        if (Parsed(typed) is not { } value)
        {
            wrong[field] = $"{label}: “{typed.Trim()}” is no number.";
            return null;
        }

        if (range.Holds(value * factor) && (!half || double.IsInteger(value * 2)))
            return value * factor;
        wrong[field] = Range(label, range, unit, factor, half);
        return null;
    }

    /// <summary>What a field takes: <c>right slope: 0 to 90°</c>.</summary>
    public static string Range(string label, PlausibleRange range, string unit, double factor = 1, bool half = false) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{label}: {Math.Round(range.Least / factor, 1)} to {Math.Round(range.Most / factor, 1)}{unit}{(half ? " in half points" : "")}"
        );

    /// <summary>A decimal comma is as good as a point: the field holds one number.</summary>
    public static double? Parsed(string? text) =>
        double.TryParse((text ?? "").Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
        && double.IsFinite(value)
            ? value
            : null;
}
