using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.History.Horses;

/// <summary>What a visit's record holds of a tracing: its measures and flags, or why there are none.</summary>
/// <param name="Problem">In a person's words; null when it was measured.</param>
internal sealed record TracingMeasures(IReadOnlyList<MeasureRow> Rows, IReadOnlyList<QualityFlag> Flags, string? Problem)
{
    /// <summary>
    /// Measures a tracing as it lies in the history. Never throws: what cannot be measured, and what comes out as no number, is said.
    /// </summary>
    /// <param name="tracing">Made inside, since the event itself may be broken.</param>
    public static TracingMeasures Measure(Func<Tracing> tracing, string? station) =>
        Measure(() => TracingAnalysis.Analyse(tracing()), station);

    /// <inheritdoc cref="Measure(Func{Tracing}, string)"/>
    public static TracingMeasures Measure(TracingFit fit, string? station) => Measure(() => fit.Answer, station);

    private static TracingMeasures Measure(Func<TracingAnswer> analyse, string? station)
    {
        TracingAnswer answer;
        try
        {
            answer = analyse();
        }
        catch (Exception fault) when (ComputationFault.IsOurs(fault))
        {
            return None($"{ComputationFault.Words(fault)}.");
        }

        // Accepted under an earlier rule and refused by today's: kept and shown with its reason, never dropped.
        if (answer.Refused is { } refused)
            return None(refused.Message);
        var rows = answer.Measures.Select(m => new MeasureRow(m.Key, station, m.Value, m.Unit, m.Sd, m.Why)).ToList();
        return AreNumbers(rows, answer.Flags) ? new(rows, answer.Flags, null) : None("its measures come out as no numbers.");
    }

    /// <summary>Whether all of it can be written: no JSON holds infinity or what is no number.</summary>
    public static bool AreNumbers(IReadOnlyList<MeasureRow> rows, IReadOnlyList<QualityFlag> flags) =>
        rows.All(r => double.IsFinite(r.Value ?? 0) && double.IsFinite(r.Sd ?? 0))
        && flags.All(f => double.IsFinite(f.Length) && IsFinite(f.From) && IsFinite(f.To));

    private static bool IsFinite(Point p) => double.IsFinite(p.X) && double.IsFinite(p.Y);

    /// <param name="why">To its full stop.</param>
    private static TracingMeasures None(string why) => new([], [], $"It could not be measured: {why}");
}
