namespace BackHistory.Trends;

/// <summary>A pace of change.</summary>
/// <param name="Pace">Standard deviation of the slope, thresholds per day.</param>
/// <param name="Share">How common among horses that move.</param>
public sealed record MovementScale(double Pace, double Share);

/// <summary>
/// What a practice expects of a back after a fit before it is measured again; learned from its horses, else rule of thumb. A moving back's slope wanders and
/// forgets itself after <paramref name="PersistenceDays"/> (integrated Ornstein–Uhlenbeck process), so that a forecast levels off where a line would run away.
/// </summary>
/// <param name="MovingShare">Share of horses that move between one fit and the next.</param>
/// <param name="Scales">Paces at which they move.</param>
/// <param name="SteadyPace">Pace of those that do not: wander that no saddle minds.</param>
/// <param name="BeforePace">Pace assumed before the baseline, where only the level at the baseline is wanted.</param>
/// <param name="IgnorancePace">Pace at which a back might move unseen; decides when <c>unknown</c> begins.</param>
/// <param name="SingleShare">Share of movements that show in a single measure only.</param>
/// <param name="SameStation">Correlation of a visit's noise between measures of one station, each signed so that an opening back raises it.</param>
/// <param name="WholeBack">The same between stations.</param>
public sealed record MovementPrior(
    double MovingShare, IReadOnlyList<MovementScale> Scales, double PersistenceDays, double SteadyPace, double BeforePace, double IgnorancePace,
    double SingleShare, double SameStation, double WholeBack)
{
    public static MovementPrior RuleOfThumb { get; } = new(
        MovingShare: 0.25, Scales: [new(1 / 180.0, 0.5), new(1 / 60.0, 0.5)], PersistenceDays: 120, SteadyPace: 1 / 1500.0, BeforePace: 1 / 360.0,
        IgnorancePace: 1 / 180.0, SingleShare: 0.15, SameStation: 0.3, WholeBack: 0.1);
}
