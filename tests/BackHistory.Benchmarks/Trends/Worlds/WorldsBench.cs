using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// The promises of the decision in worlds of contours, whose truth is known and which the judge was not drawn from: what steady horses
/// meet, what changed ones are found by, and what p is worth.
/// </summary>
static class WorldsBench
{
    const double Years = 2.5;
    const int FirstSeed = 17_000_000;

    static readonly (string Name, WorldFate Fate)[] Scenarios =
    [
        ("S0b steady with season", WorldFate.SteadyWithSeason),
        ("A shoulder opens", WorldFate.ShoulderOpens),
        ("B one half loses 15 %", WorldFate.LosesOneHalf),
        ("C1 whole back widens", WorldFate.WholeBackWidens),
        ("C2 fattens", WorldFate.Fattens),
        ("D loses evenly, recovers", WorldFate.LosesAndRecovers),
        ("E topline sinks 25 mm", WorldFate.ToplineSinks),
        ("F one station", WorldFate.OneStation),
        ("G change and other hands", WorldFate.OpensAndHandsChange),
        ("I swelling at one visit", WorldFate.Swelling),
        ("J growing", WorldFate.Grows),
        ("K1 sides swapped", WorldFate.SidesSwapped),
        ("K2 one station 5° askew", WorldFate.StationAskew),
        ("K3 a visit 5° askew", WorldFate.VisitAskew),
    ];

    /// <param name="horses">In each scenario.</param>
    /// <param name="only">Beginnings of scenarios' names; empty = all.</param>
    internal static IEnumerable<Figure> Run(int horses, IReadOnlyList<string> only)
    {
        var practice = new Practice();
        var told = new List<(double P, bool Past, double Ahead, bool PastAhead)>();
        var steadyAtUsual = new List<WorldLife>();
        Console.Error.WriteLine(
            $"{"", -32}{"refits /horse-year", 28}{"cautions /horse-year", 28}{"1st", 7}{"2nd", 7}{"3rd", 7}"
                + "   the same at equal alarms: single, sum, CUSUM, knowing"
        );
        foreach (var (name, nuisance) in SteadyWorlds)
        {
            if (!Wanted(name, only) && nuisance.Lean != 0.8)
                continue;
            var lives = Lives(WorldFate.Steady, horses, nuisance, practice);
            if (nuisance is { Lean: 0.8, StudentDf: 0 })
                steadyAtUsual = lives;
            foreach (var figure in Steady($"S0 steady, {name}", lives))
                yield return figure;
            told.AddRange(Told(lives));
        }
        var bars = WorldBars.From(steadyAtUsual, horses, () => Visits(Math.Max(40, horses / 2)));
        foreach (var (name, fate) in Scenarios)
        {
            if (!Wanted(name, only))
                continue;
            var lives = Lives(fate, horses, new WorldNuisance(), practice);
            foreach (var figure in Scenario(name, lives, bars))
                yield return figure;
            told.AddRange(Told(lives));
        }
        foreach (var figure in Calibration("p", told.Where(t => !double.IsNaN(t.P)).Select(t => (t.P, t.Past))))
            yield return figure;
        foreach (
            var figure in Calibration("half a year ahead, p", told.Where(t => !double.IsNaN(t.Ahead)).Select(t => (t.Ahead, t.PastAhead)))
        )
            yield return figure;
    }

    static readonly (string Name, WorldNuisance Nuisance)[] SteadyWorlds =
    [
        ("no lean", new(Lean: 0)),
        ("lean 0.8°", new()),
        ("lean 1.2°", new(Lean: 1.2)),
        ("lean 1.5°", new(Lean: 1.5)),
        ("lean 0.8°, Student's t with 5 df", new(StudentDf: 5)),
    ];

    static bool Wanted(string name, IReadOnlyList<string> only) =>
        only.Count == 0
        || only.Any(o => name.StartsWith(o, StringComparison.Ordinal) || (o == "S0" && name.Contains("lean", StringComparison.Ordinal)));

    static List<WorldLife> Lives(WorldFate fate, int horses, WorldNuisance nuisance, Practice practice)
    {
        var lives = new WorldLife[horses];
        SimulatedPractice.ForEach(0, horses, h => lives[h] = WorldLife.Of(Made(fate, h, nuisance, out var visits), visits, practice));
        return [.. lives];
    }

    /// <summary>Steady horses that are judged by nobody here: they teach the judge who knows.</summary>
    static List<WorldVisits> Visits(int horses)
    {
        var made = new WorldVisits[horses];
        SimulatedPractice.ForEach(
            0,
            horses,
            h =>
            {
                Made(WorldFate.Steady, 500_000 + h, new(), out var visits);
                made[h] = visits;
            }
        );
        return [.. made];
    }

    static WorldHorse Made(WorldFate fate, int number, WorldNuisance nuisance, out WorldVisits visits)
    {
        var random = new Random(FirstSeed + 1_000_000 * (int)fate + number);
        var families = Enum.GetValues<WorldFamily>();
        var horse = new WorldHorse(fate, fate == WorldFate.Grows ? WorldFamily.Young : families[number % families.Length], random);
        visits = WorldVisits.Of(horse, nuisance, Math.Max(Years, (horse.HasChange ? horse.Complete + 220 : 0) / 365.25), random);
        return horse;
    }

    static IEnumerable<Figure> Steady(string name, List<WorldLife> lives)
    {
        var (refits, cautions, years) = (lives.Sum(l => l.FalseRefits), lives.Sum(l => l.FalseCautions), lives.Sum(l => l.Years));
        Console.Error.WriteLine($"{name, -32}{Rate(refits, years), 28}{Rate(cautions, years), 28}");
        yield return Alarms($"alarms: {name}, false refits", refits, years, 0.02, lives.Count);
        yield return Alarms($"alarms: {name}, false cautions", cautions, years, 0.002, lives.Count);
    }

    static IEnumerable<Figure> Scenario(string name, List<WorldLife> lives, WorldBars bars)
    {
        var (refits, cautions, years) = (lives.Sum(l => l.FalseRefits), lives.Sum(l => l.FalseCautions), lives.Sum(l => l.Years));
        var changed = lives[0].Horse.HasChange;
        string Shares(Func<WorldLife, int, bool?> found) =>
            string.Concat(Enumerable.Range(1, 3).Select(n => Share(lives, l => found(l, n)).Text.PadLeft(7)));
        var line = $"{name, -32}{Rate(refits, years), 28}{Rate(cautions, years), 28}";
        if (!changed)
        {
            var again = lives.Count(l => l.Visits.Any(v => v.Index == l.Told.Odd && v.Held));
            Console.Error.WriteLine(line + (lives[0].Told.Odd >= 0 ? $"   told to trace again at that visit: {again}/{lives.Count}" : ""));
            yield return Alarms($"alarms: {name}, false refits", refits, years, 0.02, lives.Count);
            yield return Alarms($"alarms: {name}, false cautions", cautions, years, 0.002, lives.Count);
            if (lives[0].Told.Odd >= 0)
                yield return new($"alarms: {name}, told to trace again", again / (double)lives.Count, "none promised", null, "share");
            yield break;
        }
        Console.Error.WriteLine(
            line
                + Shares((l, n) => l.FoundBy(n, v => v.State == WatchState.Refit))
                + "   "
                + string.Join(" |", bars.All.Select(b => Shares((l, n) => b.FoundBy(l, n))))
        );
        yield return Alarms($"alarms: {name}, false refits before it is past", refits, years, null, lives.Count);
        yield return Alarms($"alarms: {name}, false cautions", cautions, years, 0.002, lives.Count);
        for (var n = 1; n <= 3; n++)
        {
            var visit = n;
            var ours = Share(lives, l => l.FoundBy(visit, v => v.State == WatchState.Refit)).Value;
            foreach (var bar in bars.All)
                yield return new(
                    $"alarms: {name}, refit by visit {visit} after it is complete",
                    ours,
                    $"{bar.Name} at equal alarms",
                    Share(lives, l => bar.FoundBy(l, visit)).Value,
                    "share"
                );
            if (lives[0].Horse.Fate == WorldFate.LosesOneHalf)
            {
                var vet = Share(lives, l => l.FoundBy(visit, l.CautionFor));
                Console.Error.WriteLine($"{"", -32}caution by visit {visit}: {vet.Text}");
                yield return new(
                    $"alarms: {name}, caution by visit {visit} after it is complete",
                    vet.Value,
                    "none promised",
                    null,
                    "share"
                );
            }
        }
    }

    static Figure Alarms(string name, int count, double years, double? promise, int horses) =>
        new(
            name,
            count / years,
            promise is null ? "none promised" : "promise, at most",
            promise,
            $"per horse and year, 95 % {Bounds(count, years)}",
            [("horses", horses), ("alarms", count), ("seed", FirstSeed)]
        );

    static string Rate(int count, double years) =>
        string.Create(CultureInfo.InvariantCulture, $"{count / years:F4} ({Bounds(count, years)})");

    /// <summary>Of a Poisson rate, to Wilson and Hilferty's approximation of chi-squared (1931, PNAS 17:684).</summary>
    static string Bounds(int count, double years)
    {
        var low = count == 0 ? 0 : count * Math.Pow(1 - 1.0 / (9 * count) - 1.96 / (3 * Math.Sqrt(count)), 3);
        var high = (count + 1) * Math.Pow(1 - 1.0 / (9 * (count + 1)) + 1.96 / (3 * Math.Sqrt(count + 1)), 3);
        return string.Create(CultureInfo.InvariantCulture, $"{low / years:F4}–{high / years:F4}");
    }

    static (double Value, string Text) Share(List<WorldLife> lives, Func<WorldLife, bool?> found)
    {
        var seen = lives.Select(found).OfType<bool>().ToList();
        if (seen.Count == 0)
            return (double.NaN, "–");
        var share = seen.Count(f => f) / (double)seen.Count;
        return (share, share.ToString("F2", CultureInfo.InvariantCulture));
    }

    /// <summary>One visit a horse, drawn at random: visits of one horse tell the same story again.</summary>
    static IEnumerable<(double P, bool Past, double Ahead, bool PastAhead)> Told(List<WorldLife> lives)
    {
        for (var i = 0; i < lives.Count; i++)
        {
            var seen = lives[i].Visits;
            var v = seen[new Random(FirstSeed + i).Next(seen.Count)];
            var within = lives[i].Told.Days[^1] >= v.Day + 180;
            yield return (v.P ?? double.NaN, v.Past, within ? v.Ahead : double.NaN, v.PastAhead);
        }
    }

    static IEnumerable<Figure> Calibration(string what, IEnumerable<(double P, bool Past)> told)
    {
        foreach (var decile in told.GroupBy(t => Math.Min(9, (int)(t.P * 10))).OrderBy(g => g.Key))
        {
            var (n, mean, truly) = (decile.Count(), decile.Average(t => t.P), decile.Average(t => t.Past ? 1.0 : 0));
            Console.Error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{what} {decile.Key / 10.0:F1}–{(decile.Key + 1) / 10.0:F1}: told {mean:F2}, truly past {truly:F2} of {n}"
                )
            );
            yield return new(
                $"alarms: truly past, {what} in tenth {decile.Key + 1}",
                truly,
                "mean of what was told",
                mean,
                "share",
                [("horses", n)]
            );
        }
    }
}
