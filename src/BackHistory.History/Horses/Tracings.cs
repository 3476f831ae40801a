using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>Tracings as they lie in the history.</summary>
public static class Tracings
{
    public static Tracing TracingFrom(CrossSectionTraced e) =>
        new()
        {
            Kind = TracingKind.CrossSection,
            Station = e.Station,
            Points = [.. e.Points],
            Midline = e.Midline,
            Level = LevelOf(e.Level),
            Marks = e.Marks,
            Noise = e.Noise,
        };

    public static Tracing TracingFrom(ToplineTraced e) =>
        new()
        {
            Kind = TracingKind.Topline,
            Points = [.. e.Points],
            Level = LevelOf(e.Level),
            Marks = e.Marks,
            TailLeft = e.TailLeft,
            Noise = e.Noise,
        };

    private static LevelLine? LevelOf(IReadOnlyList<Point>? level) => level is [var from, var to] ? new LevelLine(from, to) : null;
}
