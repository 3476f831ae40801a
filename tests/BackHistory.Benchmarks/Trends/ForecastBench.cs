using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends;

/// <summary>Whether bands and forecasts hold what they say, on a mixed practice of horses that taught nothing.</summary>
static class ForecastBench
{
    const int Horses = 600;

    internal static IEnumerable<Figure> Run(WatchRules rules)
    {
        var tally = new Tally();
        SimulatedPractice.ForEach(
            400_000,
            Horses,
            seed =>
            {
                var one = SimulatedPractice.Mixed(seed);
                Bands(one, rules, tally);
                Dates(one, rules, tally);
            }
        );
        yield return new("alarms: 95 % bands hold the true level", tally.Share("band"), "promise 93 to 97", 0.95, "share");
        yield return new("alarms: 95 % intervals hold the true change", tally.Share("change"), "nominal", 0.95, "share");
        yield return new(
            "alarms: 10-90 forecast of the level at the next visit holds",
            tally.Share("next"),
            "promise 75 to 85",
            0.80,
            "share"
        );
        yield return new("alarms: limit passed by the forecast's `from`", tally.Share("from"), "nominal", 0.10, "share");
        yield return new("alarms: limit passed by the forecast's `reached`", tally.Share("reached"), "nominal", 0.50, "share");
        foreach (var key in tally.Keys.Where(k => k.StartsWith("p ", StringComparison.Ordinal)).Order(StringComparer.Ordinal))
            Console.Error.WriteLine($"calibration of {key}: {tally.Share(key):P1} of {tally.Count(key)}");
    }

    static void Bands(SimulatedPractice.Case one, WatchRules rules, Tally tally)
    {
        var (horse, visits) = one;
        var (last, before) = (visits.Days[^1], visits.Days[^2]);
        for (var i = 0; i < Watchlist.Count; i++)
        {
            var series = visits.Series[i];
            var trend = TrendFit.Fit(series.Observations, series.Noise, prior: rules.Learned?.DriftOf(series.Measure, series.Station));
            for (var v = 0; v < visits.Days.Length; v += 2)
                Hold("band", trend.Level(visits.Days[v])!, horse.Measures(visits.Days[v])[i], 1.959964);
            Hold("change", trend.Change(visits.Days[1], last)!, horse.Measures(last)[i] - horse.Measures(visits.Days[1])[i], 1.959964);
            var earlier = TrendFit.Fit(
                [.. series.Observations.Where(o => o.Day <= before)],
                series.Noise,
                prior: rules.Learned?.DriftOf(series.Measure, series.Station)
            );
            Hold("next", earlier.Level(last)!, horse.Measures(last)[i], 1.281552);
        }

        void Hold(string key, Uncertain estimate, double truth, double z) =>
            tally.Add(key, Math.Abs(estimate.Value - truth) <= z * estimate.Sd);
    }

    static void Dates(SimulatedPractice.Case one, WatchRules rules, Tally tally)
    {
        var (horse, visits) = one;
        var series = visits.Series;
        for (var v = 1; v < visits.Days.Length; v++)
        {
            var decision = HorseJudge.Decide(series, visits.Days[0], visits.Days[v], rules);
            var crossed = Crossing(horse, visits.Days[0], visits.Days[v]);
            var p = decision.P!.Value;
            tally.Add(
                $"p {(p < 0.05 ? "under 0.05" : p < 0.2 ? "0.05 to 0.2" : p < 0.5 ? "0.2 to 0.5" : p < 0.8 ? "0.5 to 0.8" : "over 0.8")}",
                crossed <= visits.Days[v]
            );
            if (p < 0.10 && decision.Forecast!.From is { } from)
                tally.Add("from", crossed <= Days.DayNumber(from));
            if (p < 0.50 && decision.Forecast!.Reached is { } reached)
                tally.Add("reached", crossed <= Days.DayNumber(reached));
        }
    }

    /// <summary>The day from <paramref name="fromDay"/> on when a true value is first past its threshold; infinity beyond a year.</summary>
    static double Crossing(SimulatedHorse horse, double baselineDay, double fromDay)
    {
        var at = horse.Measures(baselineDay);
        for (var day = fromDay; day <= fromDay + 366; day++)
        {
            var now = horse.Measures(day);
            for (var i = 0; i < now.Length; i++)
                if (Math.Abs(now[i] - at[i]) > Watchlist.ThresholdOf(i).At(at[i]))
                    return day;
        }
        return double.PositiveInfinity;
    }

    sealed class Tally
    {
        readonly Dictionary<string, (int Held, int Count)> _counts = new(StringComparer.Ordinal);
        readonly Lock _gate = new();

        internal IEnumerable<string> Keys => _counts.Keys;

        internal int Count(string key) => _counts[key].Count;

        internal double Share(string key) => (double)_counts[key].Held / _counts[key].Count;

        internal void Add(string key, bool held)
        {
            lock (_gate)
            {
                var (h, c) = _counts.GetValueOrDefault(key);
                _counts[key] = (h + (held ? 1 : 0), c + 1);
            }
        }
    }
}
