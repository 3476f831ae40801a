namespace BackHistory.Benchmarks.Trends;

/// <summary>What a simulated horse is made to do.</summary>
enum Fate
{
    Steady,
    ShoulderOpens,
    LosesOneSide,
    Drifts,
}

/// <summary>
/// The true shape of an invented horse over time: at each station two flanks (slope, ridge half-width, bulge), and from these in closed
/// form what a perfect tracing would measure. Noise is not here.
/// </summary>
sealed class SimulatedHorse
{
    internal static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
    internal const double OpeningDegrees = 12,
        OpeningDays = 182,
        LossPercent = 15,
        LossDays = 91;

    readonly double[] _slope = new double[4],
        _ridge = new double[4],
        _habit = new double[4];
    readonly double _season,
        _seasonPeak,
        _drop,
        _weight,
        _condition;
    readonly double[] _drift;

    internal SimulatedHorse(Fate fate, Random random)
    {
        Fate = fate;
        double[] usual = [50, 47, 40, 35];
        for (var s = 0; s < 4; s++)
        {
            _slope[s] = usual[s] + 3 * Draw.Normal(random);
            _ridge[s] = 40 + 4 * Draw.Normal(random);
            // Most horses are larger on the left (published); the difference stays.
            _habit[s] = 1 + 1.5 * Draw.Normal(random);
        }
        // A season that stays within half a threshold from trough to peak: the horse does not change, it breathes with the year.
        _season = 1.5 * random.NextDouble();
        _seasonPeak = 230 + 20 * Draw.Normal(random);
        _drop = 45 + 10 * Draw.Normal(random);
        _weight = 520 + 60 * Draw.Normal(random);
        _condition = 5 + 0.5 * Draw.Normal(random);
        Onset = 150 + 400 * random.NextDouble();
        Left = random.Next(2) == 0;
        Station = random.Next(2);
        _drift = fate == Fate.Drifts ? DriftPath(random) : [];
    }

    internal Fate Fate { get; }

    /// <summary>Day on which the change begins.</summary>
    internal double Onset { get; }
    internal bool Left { get; }

    /// <summary>Index of the station that loses shape.</summary>
    internal int Station { get; }

    SimulatedHorse(SimulatedHorse same, Fate fate, double onset, int station, bool left)
    {
        (_slope, _ridge, _habit) = (same._slope, same._ridge, same._habit);
        (_season, _seasonPeak, _drop, _weight, _condition, _drift) = (
            same._season,
            same._seasonPeak,
            same._drop,
            same._weight,
            same._condition,
            same._drift
        );
        (Fate, Onset, Station, Left) = (fate, onset, station, left);
    }

    /// <summary>The same horse with another fate: what a judge who knows the horse can imagine of it.</summary>
    internal SimulatedHorse With(Fate fate, double onset, int station = 0, bool left = false) => new(this, fate, onset, station, left);

    internal double ChangeComplete => Onset + (Fate == Fate.ShoulderOpens ? OpeningDays : LossDays);

    /// <summary>True values in the order of <see cref="Watchlist.Keys"/>.</summary>
    internal double[] Measures(double day)
    {
        var values = new double[Watchlist.Count];
        double opened = 0;
        for (var s = 0; s < 4; s++)
        {
            var (left, right) = (Flank(s, day, true), Flank(s, day, false));
            opened += Opening(s, day) / 4;
            var k = s * Watchlist.PerStation;
            values[k + Watchlist.SlopeLeft] = left.Slope;
            values[k + Watchlist.SlopeRight] = right.Slope;
            values[k + Watchlist.OpeningAngle] = 180 - left.Slope - right.Slope;
            values[k + Watchlist.Width] = left.HalfWidth + right.HalfWidth;
            values[k + Watchlist.AreaLeft] = left.Area;
            values[k + Watchlist.AreaRight] = right.Area;
            values[k + Watchlist.SkewSlope] = right.Slope - left.Slope;
            // Root mean square over arc 0–150 of two flanks that part at arc 40: 0.95 mm a degree; 0.4 is what a symmetric back reads.
            values[k + Watchlist.SkewShape] = Math.Sqrt(
                0.16 + Math.Pow(0.95 * (right.Slope - left.Slope), 2) + Math.Pow(0.5 * (right.Bulge - left.Bulge), 2)
            );
        }
        values[Watchlist.Drop] = _drop - 2 * opened;
        values[Watchlist.Weight] = _weight * (1 + 0.004 * opened);
        values[Watchlist.Condition] = _condition + 0.08 * opened;
        return values;
    }

    (double Slope, double Bulge, double HalfWidth, double Area) Flank(int station, double day, bool left)
    {
        var slope = _slope[station] - Opening(station, day) / 2 + (left ? -0.5 : 0.5) * _habit[station];
        double bulge = 4;
        if (Fate == Fate.LosesOneSide && left == Left && station == Station)
        {
            var lost = Progress(day, LossDays);
            var before = AreaOf(slope, _ridge[station], bulge);
            slope += 4 * lost;
            // The bulge makes up what the steeper slope leaves of the loss.
            bulge -= (AreaOf(slope, _ridge[station], bulge) - before * (1 - LossPercent / 100 * lost)) / BulgeArea;
        }
        return (slope, bulge, _ridge[station] + 70 / Math.Tan(slope * Math.PI / 180), AreaOf(slope, _ridge[station], bulge));
    }

    const double BulgeArea = 2.0 / 3 * 70 / 100;

    /// <summary>cm² within 100 mm depth: a rounded ridge 30 mm deep, a straight flank below it, a parabolic bulge on the flank.</summary>
    static double AreaOf(double slope, double ridge, double bulge) =>
        (20 * ridge + 70 * ridge + 2450 / Math.Tan(slope * Math.PI / 180)) / 100 + BulgeArea * bulge;

    /// <summary>How far both sides together have opened since day 0, degrees.</summary>
    double Opening(int station, double day)
    {
        var opened = _season * Math.Cos(2 * Math.PI * (day - _seasonPeak) / 365.25);
        if (Fate == Fate.ShoulderOpens && station == 0)
            opened += OpeningDegrees * Progress(day, OpeningDays);
        if (Fate == Fate.Drifts)
            opened += (station < 2 ? 1 : 0.6) * DriftAt(day);
        return opened;
    }

    double Progress(double day, double duration) => Math.Clamp((day - Onset) / duration, 0, 1);

    /// <summary>Work, lay-offs, growth: the pace changes every few months; degrees of opening by ten-day steps.</summary>
    static double[] DriftPath(Random random)
    {
        var path = new double[170];
        double pace = 0;
        for (var i = 1; i < path.Length; i++)
        {
            if (random.NextDouble() < 10 / 120.0)
                pace = random.NextDouble() < 0.4 ? 0 : 0.05 * Draw.Normal(random);
            path[i] = path[i - 1] + 10 * pace;
        }
        return path;
    }

    double DriftAt(double day)
    {
        var i = Math.Clamp((int)(day / 10), 0, _drift.Length - 2);
        var part = Math.Clamp(day / 10 - i, 0, 1);
        return _drift[i] + part * (_drift[i + 1] - _drift[i]);
    }
}

static class Draw
{
    /// <summary>A standard normal draw (Box and Muller 1958).</summary>
    internal static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
