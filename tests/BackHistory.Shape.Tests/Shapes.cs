using System.Collections.Immutable;

namespace BackHistory.Shape.Tests;

/// <summary>Backs with known answers.</summary>
internal static class Shapes
{
    /// <summary>Upper arc of a circle, left to right, its top at the origin.</summary>
    internal static Tracing Circle(double radius = 200, int points = 201, double halfAngle = 1.5, double noise = 0) =>
        Section(points, k => halfAngle * (2.0 * k / (points - 1) - 1), a => new Point(radius * Math.Sin(a), radius * (Math.Cos(a) - 1)), noise);

    internal static Tracing Section(int points, Func<int, double> parameter, Func<double, Point> curve, double noise = 0) => new()
    {
        Kind = TracingKind.CrossSection,
        Points = [.. Enumerable.Range(0, points).Select(k => curve(parameter(k)))],
        Noise = noise,
    };

    internal static Tracing With(this Tracing tracing, Func<Point, Point> change) => tracing with
    {
        Points = [.. tracing.Points.Select(change)],
        Midline = change(tracing.Midline ?? default),
        Level = tracing.Level is { } level ? new LevelLine(change(level.From), change(level.To)) : null,
        Marks = tracing.Marks.ToImmutableSortedDictionary(m => m.Key, m => change(m.Value), StringComparer.Ordinal),
    };

    internal static double Value(this TracingAnswer answer, string key)
    {
        Assert.Null(answer.Refused);
        var measure = Assert.Single(answer.Measures, m => m.Key == key);
        Assert.True(measure.Value is not null, $"{key} is null: {measure.Why}");
        return measure.Value.Value;
    }

    internal static string? Why(this TracingAnswer answer, string key)
    {
        Assert.Null(answer.Refused);
        var measure = Assert.Single(answer.Measures, m => m.Key == key);
        Assert.Null(measure.Value);
        return measure.Why;
    }
}
