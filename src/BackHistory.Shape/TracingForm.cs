namespace BackHistory.Shape;

/// <summary>The checks that need no geometry, in the order in which they are reported.</summary>
internal static class TracingForm
{
    internal const double ShortestLevelMillimetres = 20;

    internal static Refusal? Check(Tracing tracing)
    {
        var scale = Units.MillimetresPer(tracing.Unit);
        if (tracing.Noise < 0)
            return new(Refusal.Unreadable, $"The noise of a tracing cannot be negative: {tracing.Noise} mm.");
        if (
            scale is { } known
            && tracing.Level is { } level
            && known * (level.To - level.From).Length is var length and < ShortestLevelMillimetres
        )
            return new(
                Refusal.Unreadable,
                $"The level line is {length:0.#} mm long; at least {ShortestLevelMillimetres} mm are needed to read a direction from it."
            );
        if (scale is not { } millimetres)
            return new(Refusal.UnknownUnit, $"The unit '{tracing.Unit}' is not known: use mm, cm or in.");
        return AllFinite(tracing, millimetres) ? null : new(Refusal.NotFinite, "A coordinate is missing or too large to be a length.");
    }

    private static bool AllFinite(Tracing tracing, double scale)
    {
        foreach (var p in tracing.Points)
            if (!(scale * p).IsFinite)
                return false;
        return (tracing.Midline is not { } m || (scale * m).IsFinite)
            && (tracing.Level is not { } l || ((scale * l.From).IsFinite && (scale * l.To).IsFinite))
            && tracing.Marks.Values.All(p => (scale * p).IsFinite)
            && double.IsFinite(tracing.Noise);
    }
}
