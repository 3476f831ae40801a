using System.Globalization;

namespace BackHistory.Shape.Gauges;

/// <summary>A place on a workshop's gauge as it is written down: the nearest mark and, where it does not lie on it, what is left over in
/// marks – <c>4</c>, <c>4 +0.3</c>, also with a decimal comma.</summary>
public static class GaugeText
{
    /// <summary>Finer than this nobody sets a tree (common practice, no source).</summary>
    private const double StepMarks = 0.1;

    public static string Write(GaugeReading reading)
    {
        var rest = Math.Round(reading.RemainderMarks / StepMarks) * StepMarks;
        return Math.Abs(rest) < StepMarks / 2
            ? reading.Nearest.Name
            : $"{reading.Nearest.Name} {rest.ToString("+0.0;−0.0", CultureInfo.InvariantCulture)}";
    }

    /// <summary>With a decimal point or comma; null for what is no number.</summary>
    public static double? Number(string? text) =>
        double.TryParse(
            text?.Trim().Replace(',', '.').Replace('−', '-'),
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture,
            out var value
        )
            ? value
            : null;

    /// <returns>The position; null for what is no mark of the gauge, or lies outside it.</returns>
    public static double? Position(Gauge gauge, string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
            return null;
        var words = text.Trim().Replace('−', '-').Split(' ', StringSplitOptions.RemoveEmptyEntries);
        // A mark's own name may hold a space.
        for (var taken = words.Length; taken >= 1; taken--)
        {
            if (gauge.AtMark(string.Join(' ', words.Take(taken))) is not { } mark)
                continue;
            if (taken == words.Length)
                return mark.Position;
            return
                taken == words.Length - 1
                && double.TryParse(words[^1].Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var rest)
                ? gauge.AtPosition(mark.Position + rest)?.Position
                : null;
        }

        return null;
    }
}
