using BackHistory.Trends.Rules;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// Hypotheses carried forward to one day. They differ in little but the pace and the day of the last visit, so that steps and the chances
/// of a movement nobody has seen are worked out once for each such pair.
/// </summary>
internal sealed class Prediction(MovementPrior prior, double day)
{
    // A movement after the last visit may have begun at any time since: three moments stand for all.
    static readonly double[] Since = [5.0 / 6, 1.0 / 2, 1.0 / 6];

    readonly List<(double Pace, double Ahead, DriftStep Step)> _steps = [];
    readonly List<(double Ahead, double Bar, double P)> _unseen = [];

    internal (double Value, double Sd) ValueFrom(in Movement movement)
    {
        var ahead = Math.Max(0, day - movement.Day);
        if (ahead == 0)
            return (movement.Change, Math.Sqrt(movement.ChangeVariance));
        var step = StepOf(movement.Pace, ahead);
        var variance =
            movement.ChangeVariance
            + 2 * step.Reach * movement.Covariance
            + step.Reach * step.Reach * movement.SlopeVariance
            + step.LevelVariance;
        return (movement.Change + step.Reach * movement.Slope, Math.Sqrt(Math.Max(0, variance)));
    }

    /// <summary>The chance that a movement has begun since the last visit and is past the bar.</summary>
    internal double UnseenBeyond(in Movement steady, double bar)
    {
        var ahead = Math.Max(0, day - steady.Day);
        if (ahead == 0)
            return 0;
        foreach (var u in _unseen)
            if (u.Ahead == ahead && u.Bar == bar)
                return u.P;
        double p = 0;
        foreach (var scale in prior.Scales)
        foreach (var part in Since)
            p += scale.Share / Since.Length * JointEvidence.Beyond((0, Moved(scale.Pace, part * ahead, scale.Jump)), bar);
        p *= prior.Begins(ahead);
        _unseen.Add((ahead, bar, p));
        return p;
    }

    /// <summary>Sd of the size if the back has been moving since the last visit at the pace that ignorance is reckoned with.</summary>
    internal double SdIfMoving(in Movement steady)
    {
        var moved = Moved(prior.IgnorancePace, Math.Max(0, day - steady.Day));
        return Math.Sqrt(steady.ChangeVariance + moved * moved);
    }

    double Moved(double pace, double days, double jump = 0)
    {
        if (days == 0)
            return 0;
        var step = StepOf(pace, days);
        return Math.Sqrt(jump * jump + step.LevelVariance + step.Reach * step.Reach * pace * pace);
    }

    DriftStep StepOf(double pace, double ahead)
    {
        foreach (var s in _steps)
            if (s.Pace == pace && s.Ahead == ahead)
                return s.Step;
        var step = DriftStep.For(ahead, pace, prior.PersistenceDays);
        _steps.Add((pace, ahead, step));
        return step;
    }
}
