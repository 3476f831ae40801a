using System.Globalization;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.History.Horses;

/// <summary>
/// Whether an entry of a visit holds what a horse can have. Asked of every entry before it becomes an event, and of events that others
/// decided.
/// </summary>
internal static class PlausibleEntries
{
    /// <returns>What is wrong; null when nothing is.</returns>
    public static Refused? Problem(IVisitEntryEvent entry) =>
        entry switch
        {
            CrossSectionTraced d => OfTracing(Tracings.TracingFrom(d), d.Calibration),
            ToplineTraced d => OfTracing(Tracings.TracingFrom(d), d.Calibration),
            ReadingTaken d => OfReading(d),
            ConditionScored d => HalfPoint(d.Score, Plausible.Condition)
                ? null
                : new("condition-scale", "The condition score runs from 1 to 9 in half points (Henneke et al. 1983)."),
            MuscleScored d => HalfPoint(d.Score, Plausible.Muscle)
                ? null
                : new("muscle-scale", "The muscle score runs from 1 (no atrophy) to 4 in half points (Herbst et al. 2022)."),
            Weighed d => Plausible.Weight.Holds(d.Kilograms)
                ? null
                : new("implausible-weight", $"{Say(d.Kilograms)} kg is no horse's weight. Is it in kilograms?"),
            GirthTaped d => Plausible.Taped.Holds(d.GirthMm) && Plausible.Taped.Holds(d.LengthMm)
                ? null
                : new(
                    "implausible-size",
                    $"Girth and length must lie between {Plausible.Taped.Least} and {Plausible.Taped.Most} mm. Are they in millimetres?"
                ),
            HeightMeasured d => Plausible.Height.Holds(d.WithersMm) && Plausible.Height.Holds(d.CroupMm ?? d.WithersMm)
                ? null
                : new(
                    "implausible-height",
                    $"{d.WithersMm} mm at the withers is no horse's height. Is it in millimetres? One hand is 101.6 mm."
                ),
            // Words, which lie beside the event.
            VisitNoted => null,
            _ => throw new ArgumentException($"no bounds for {entry.GetType().Name}", nameof(entry)),
        };

    private static Refused? OfTracing(Tracing tracing, Calibration? calibration) =>
        TracingAnalysis.CheckSizes(tracing) is { } bad ? new Refused(bad.Code, bad.Message) : calibration?.Check();

    private static Refused? OfReading(ReadingTaken d) =>
        (Readings.Find(d.Measure)?.Range ?? Plausible.Measured) is var range && range.Holds(d.Value)
            ? null
            : new("implausible-reading", $"{d.Measure} {Say(d.Value)} lies outside {range}. Read again.");

    private static bool HalfPoint(double score, PlausibleRange scale) => scale.Holds(score) && double.IsInteger(score * 2);

    private static string Say(double value) => value.ToString(Math.Abs(value) < 1e9 ? "0.##" : "0.##e0", CultureInfo.InvariantCulture);
}
