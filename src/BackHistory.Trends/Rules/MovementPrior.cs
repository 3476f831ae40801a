using System.Text.Json.Serialization;

namespace BackHistory.Trends.Rules;

/// <summary>
/// What a practice expects of a back after a fit before it is measured again; learned from its horses, else rule of thumb. A back is
/// steady until it begins to move; a moving back's slope wanders and forgets itself after <paramref name="PersistenceDays"/> (integrated
/// Ornstein–Uhlenbeck process), so that a forecast levels off where a line would run away.
/// </summary>
/// <param name="MovesPerYear">How often a steady back begins to move.</param>
/// <param name="LeastMovesPerYear">Learning never goes under it: a practice whose horses seldom move keeps its guard.</param>
/// <param name="Scales">Paces at which backs move.</param>
/// <param name="SteadyPace">Pace of those that do not: season and wander that no saddle minds.</param>
/// <param name="IgnorancePace">Pace at which a back might move unseen; decides when <c>unknown</c> begins.</param>
/// <param name="SingleShare">Share of movements that show in a single measure only.</param>
/// <param name="OutlierShare">Share of values that are outliers (a station missed, a figure mistyped): what a single measure says once may
/// be one.</param>
/// <param name="OutlierSize">Sd of an outlier in sds of an honest value.</param>
/// <param name="SameStation">Correlation of a visit's noise between measures of one station, signed by
/// <see cref="NoiseRule.Breathes"/>.</param>
/// <param name="WholeBack">The same between all stations.</param>
/// <param name="WholeLean">Correlation that a leaning horse or a sheet held askew gives to slopes of one side at different stations: with
/// the shipped noise 0.24 is a lean of one degree from visit to visit.</param>
public sealed record MovementPrior(
    double MovesPerYear,
    double LeastMovesPerYear,
    IReadOnlyList<MovementScale> Scales,
    double PersistenceDays,
    double SteadyPace,
    double IgnorancePace,
    double SingleShare,
    [property: JsonPropertyName("slipShare")] double OutlierShare,
    [property: JsonPropertyName("slipSize")] double OutlierSize,
    double SameStation,
    double WholeBack,
    double WholeLean = 0
)
{
    public static MovementPrior RuleOfThumb { get; } =
        new(
            MovesPerYear: 0.5,
            LeastMovesPerYear: 0.4,
            Scales: [new(1 / 180.0, 0.45), new(1 / 60.0, 0.45), new(1 / 180.0, 0.1, Jump: 1.5)],
            PersistenceDays: 120,
            SteadyPace: 1 / 1500.0,
            IgnorancePace: 1 / 180.0,
            SingleShare: 0.15,
            OutlierShare: 0.02,
            OutlierSize: 3,
            SameStation: 0.3,
            WholeBack: 0.1,
            WholeLean: 0.24
        );

    /// <summary>Probability that a steady back begins to move within so many days.</summary>
    internal double Begins(double days) => 1 - Math.Exp(-MovesPerYear * days / 365.25);
}
