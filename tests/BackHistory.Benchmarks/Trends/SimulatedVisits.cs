using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Benchmarks.Trends;

/// <summary>
/// Visits every 60 to 180 days for three years, one or two tracings each, with every layer of noise: trace, visit, and the hands of two
/// people. Part of a visit's noise is shared (stance and breathing open or close the whole back, or one station); sums and differences of
/// slopes are taken from the noisy slopes.
/// </summary>
sealed class SimulatedVisits
{
    internal const double Years = 3;

    // Shares of the noise's variance common to a station and to the whole back: not the values that the rules assume.
    const double StationShare = 0.25,
        HorseShare = 0.15;

    internal required double[] Days { get; init; }
    internal required WatchedSeries[] Series { get; init; }

    /// <summary>Tracings of each visit.</summary>
    internal required int[] Tracings { get; init; }

    /// <summary>0 or 1: whose hands, by visit.</summary>
    internal required int[] Hands { get; init; }
    internal required double[] Reference { get; init; }

    internal static SimulatedVisits Of(SimulatedHorse horse, Random random, double tailDf = 0)
    {
        var days = new List<double> { 0 };
        while (days[^1] < Years * 365.25)
            days.Add(days[^1] + Math.Floor(60 + 121 * random.NextDouble()));
        days.RemoveAt(days.Count - 1);
        var reference = horse.Measures(0);
        var observations = Enumerable.Range(0, Watchlist.Count).Select(_ => new List<Observation>()).ToArray();
        var hands = Enumerable.Range(0, 2).Select(_ => Layer(reference, r => r.PersonSd, random, 0)).ToArray();
        var (counts, whose) = (new List<int>(), new List<int>());
        foreach (var day in days)
        {
            var truth = horse.Measures(day);
            var person = random.NextDouble() < 0.85 ? 0 : 1;
            var visit = Layer(reference, r => r.VisitSd, random, tailDf);
            var tracings = 1 + random.Next(2);
            counts.Add(tracings);
            whose.Add(person);
            for (var t = 0; t < tracings; t++)
            {
                var trace = Layer(reference, r => r.TraceSd, random, tailDf);
                for (var i = 0; i < Watchlist.Count; i++)
                {
                    if (t > 0 && i is Watchlist.Weight or Watchlist.Condition)
                        continue;
                    var sd = Watchlist.NoiseOf(i).At(reference[i]).TraceSd;
                    observations[i].Add(new(day, truth[i] + hands[person][i] + visit[i] + trace[i], sd, person == 0 ? "ann" : "bob"));
                }
            }
        }
        return new()
        {
            Days = [.. days],
            Tracings = [.. counts],
            Hands = [.. whose],
            Reference = reference,
            Series =
            [
                .. Watchlist.Keys.Select(
                    (k, i) =>
                        new WatchedSeries(
                            k.Measure,
                            k.Station,
                            k.Unit,
                            observations[i],
                            Watchlist.NoiseOf(i).At(reference[i]).Layers,
                            Watchlist.ThresholdOf(i)
                        )
                ),
            ],
        };
    }

    /// <summary>Mean of the tracings of one visit.</summary>
    internal double Mean(int series, int visit)
    {
        double sum = 0;
        var n = 0;
        foreach (var o in Series[series].Observations)
            if (o.Day == Days[visit])
            {
                sum += o.Value;
                n++;
            }
        return sum / n;
    }

    /// <summary>Correlation of two measures within one layer of noise, as <see cref="Layer"/> draws it (sums and differences of slopes
    /// aside).</summary>
    internal static double Correlation(int a, int b)
    {
        if (a == b)
            return 1;
        var signs = Watchlist.Sign(a) * Watchlist.Sign(b);
        return signs * (HorseShare + (a / Watchlist.PerStation == b / Watchlist.PerStation ? StationShare : 0));
    }

    internal static double Sd(int series, double reference, Func<NoiseRule, double> layer)
    {
        var rule = Watchlist.NoiseOf(series);
        return layer(rule) * (rule.Percent ? Math.Abs(reference) / 100 : 1);
    }

    static double[] Layer(double[] reference, Func<NoiseRule, double> sdOf, Random random, double tailDf)
    {
        var noise = new double[Watchlist.Count];
        var horse = Draw.Normal(random);
        var station = Enumerable.Range(0, 4).Select(_ => Draw.Normal(random)).ToArray();
        for (var i = 0; i < noise.Length; i++)
        {
            var rule = Watchlist.NoiseOf(i);
            var sd = sdOf(rule) * (rule.Percent ? Math.Abs(reference[i]) / 100 : 1);
            var sign = Watchlist.Sign(i);
            var own = Draw.Normal(random) * Tail(random, tailDf);
            noise[i] =
                sd
                * (
                    sign == 0
                        ? own
                        : sign * (Math.Sqrt(HorseShare) * horse + Math.Sqrt(StationShare) * station[i / Watchlist.PerStation])
                            + Math.Sqrt(1 - HorseShare - StationShare) * own
                );
        }
        for (var s = 0; s < 4; s++)
        {
            var k = s * Watchlist.PerStation;
            noise[k + Watchlist.OpeningAngle] = -noise[k + Watchlist.SlopeLeft] - noise[k + Watchlist.SlopeRight];
            noise[k + Watchlist.SkewSlope] = noise[k + Watchlist.SlopeRight] - noise[k + Watchlist.SlopeLeft];
        }
        return noise;
    }

    /// <summary>Factor that turns a normal draw into Student's t of unit variance; 1 without a tail.</summary>
    static double Tail(Random random, double df)
    {
        if (df <= 2)
            return 1;
        double chi = 0;
        for (var i = 0; i < (int)df; i++)
            chi += Math.Pow(Draw.Normal(random), 2);
        return Math.Sqrt((df - 2) / chi);
    }
}
