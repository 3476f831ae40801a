using System.Collections.Immutable;
using System.Globalization;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Gauges;

/// <summary>
/// A workshop's table of its own marks against degrees or millimetres. Between marks the conversion is a monotone cubic, the same
/// both ways; outside the table it is refused, never extrapolated.
/// </summary>
public sealed class Gauge
{
    private readonly double[] positions,
        values,
        slopes;

    private Gauge(string name, string measure, string unit, ImmutableArray<GaugeMark> marks)
    {
        (Name, Measure, Unit, Marks) = (name, measure, unit, marks);
        positions = [.. marks.Select(m => m.Position)];
        values = [.. marks.Select(m => m.Value)];
        slopes = Pchip.Slopes(positions, values);
    }

    public string Name { get; }

    /// <summary>The measure that the gauge reads: `slope` for one side at a time, or a key such as `opening` or `width@100`.</summary>
    public string Measure { get; }

    /// <summary>`deg` or `mm`.</summary>
    public string Unit { get; }

    /// <summary>Ascending by position.</summary>
    public ImmutableArray<GaugeMark> Marks { get; }

    /// <summary>Least and greatest value of the table.</summary>
    public (double Least, double Most) Range => (Math.Min(values[0], values[^1]), Math.Max(values[0], values[^1]));

    /// <summary>Makes a gauge of a table, in any order; the fault says what is wrong with it.</summary>
    public static (Gauge? Gauge, string? Fault) Create(string name, string measure, string unit, IEnumerable<GaugeMark> marks)
    {
        var table = marks.OrderBy(m => m.Position).ToImmutableArray();
        if (unit is not ("deg" or "mm"))
            return (null, $"A gauge reads degrees or millimetres, not '{unit}'.");
        if (table.Length < GaugeShape.FewestMarks)
            return (null, "A gauge needs at least two marks.");
        if (table.FirstOrDefault(m => !double.IsFinite(m.Position) || !double.IsFinite(m.Value)) is { } broken)
            return (null, $"The mark '{broken.Name}' has no number.");
        if (GaugeShape.Faults(table) is [var fault, ..])
            return (null, Words(fault, unit));
        return (new Gauge(name, measure, unit, table), null);
    }

    private static string Words(GaugeFault fault, string unit) =>
        fault.SamePlace
            ? $"The marks '{fault.Before.Name}' and '{fault.Mark.Name}' lie on one place."
            : string.Create(
                CultureInfo.InvariantCulture,
                $"The table turns round between '{fault.Before.Name}' ({fault.Before.Value} {unit}) "
            )
                + string.Create(
                    CultureInfo.InvariantCulture,
                    $"and '{fault.Mark.Name}' ({fault.Mark.Value} {unit}): a gauge only rises or only falls."
                );

    /// <summary>What a position on the scale means; null outside the table.</summary>
    public GaugeReading? AtPosition(double position)
    {
        if (!(position >= positions[0] && position <= positions[^1]))
            return null;
        return Reading(position, Math.Clamp(ValueAt(position), Range.Least, Range.Most));
    }

    /// <summary>The reading of a mark by name; null for a name that the gauge does not have.</summary>
    public GaugeReading? AtMark(string name) =>
        Marks.FirstOrDefault(m => m.Name == name) is { } mark ? Reading(mark.Position, mark.Value) : null;

    /// <summary>Where a value lies on the scale; null outside the table.</summary>
    public GaugeReading? AtValue(double value)
    {
        var (least, most) = Range;
        if (!(value >= least && value <= most))
            return null;
        var rising = values[^1] > values[0];
        double low = positions[0],
            high = positions[^1];
        // The conversion back is the same curve read the other way: halving is exact enough after sixty steps and cannot fail.
        for (var step = 0; step < 60 && low < high; step++)
        {
            var middle = (low + high) / 2;
            if (ValueAt(middle) < value == rising)
                low = middle;
            else
                high = middle;
        }
        return Reading((low + high) / 2, value);
    }

    private double ValueAt(double position) => Pchip.At(positions, values, slopes, Pchip.Interval(positions, position), position);

    private GaugeReading Reading(double position, double value)
    {
        var nearest = Marks.MinBy(m => Math.Abs(m.Position - position))!;
        return new GaugeReading(position, value, nearest, position - nearest.Position, value - nearest.Value);
    }
}
