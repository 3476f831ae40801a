namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>What is known of a pattern's size since the baseline at the last visit, under one pace: enough to foretell it.</summary>
/// <param name="Day">Of the last visit, or the baseline if later.</param>
/// <param name="LogLikelihood">Of the visits since the movement began, less that of a steady back.</param>
internal readonly record struct Movement(
    double Day,
    double Change,
    double Slope,
    double ChangeVariance,
    double Covariance,
    double SlopeVariance,
    double LogLikelihood,
    double Pace
);

/// <summary>
/// One step of the integrated Ornstein–Uhlenbeck process: slope decays by <paramref name="Decay"/>, level moves by
/// <paramref name="Reach"/> times the slope
/// (Uhlenbeck and Ornstein 1930, Phys. Rev. 36:823).
/// </summary>
internal readonly record struct DriftStep(double Decay, double Reach, double LevelVariance, double Covariance, double SlopeVariance)
{
    internal static DriftStep For(double days, double pace, double persistence)
    {
        var x = days / persistence;
        var decay = Math.Exp(-x);
        var reach = x < 1e-5 ? days * (1 - x / 2) : persistence * (1 - decay);
        var v = pace * pace;
        // Below a hundredth the differences cancel; the leading terms are exact to 1e-2 of the next.
        var level =
            x < 0.01
                ? 2.0 / 3 * v * persistence * persistence * x * x * x * (1 - 0.75 * x)
                : 2 * v * persistence * (days - 2 * reach + persistence * (1 - decay * decay) / 2);
        return new(decay, reach, level, v * reach * reach / persistence, v * (1 - decay * decay));
    }
}
