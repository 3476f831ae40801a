using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>The other judges with bars that give steady horses as many false alarms as ours.</summary>
sealed class WorldBars
{
    internal sealed record Bar(string Name, Func<WorldLife, double[]> Scores, double Level)
    {
        internal bool? FoundBy(WorldLife life, int visit)
        {
            var scores = Scores(life);
            return life.FoundBy(visit, v => scores[v.Index - WorldLife.Fit - 1] >= Level);
        }
    }

    internal required IReadOnlyList<Bar> All { get; init; }

    internal static WorldBars From(List<WorldLife> steady, int horses, Func<IReadOnlyList<WorldVisits>> others)
    {
        // At least one alarm: with none at all no bar could be set by it.
        var alarms = Math.Max(1, steady.Count(l => l.Visits.Any(v => v.State == WatchState.Refit)));
        var knowing = new KnowingDirection(others());
        return new()
        {
            All =
            [
                Set("single measure", l => WorldJudges.SingleMeasure(l.Told)),
                Set("weighted sum", l => WorldJudges.WeightedSum(l.Told)),
                Set("CUSUM", l => WorldJudges.Cusum(l.Told)),
                // A steady horse has nowhere to go: the discriminant's score of a steady horse is a standard normal number in every
                // direction, and the bar is that of a random one of its own visits.
                Set("judge who knows", l => knowing.Scores(l.Told, Imagined(l))),
            ],
        };

        Bar Set(string name, Func<WorldLife, double[]> scores)
        {
            var tops = steady.Select(l => scores(l).Max()).OrderDescending().ToList();
            return new(name, scores, tops[Math.Min(alarms, tops.Count) - 1]);
        }

        Dictionary<(string Key, string? Station), double> Imagined(WorldLife life) =>
            life.Horse.HasChange ? KnowingDirection.DirectionOf(life) : Opening(life);
    }

    /// <summary>Where a steady horse is looked for: an opening at the shoulder.</summary>
    static Dictionary<(string Key, string? Station), double> Opening(WorldLife life) =>
        life
            .Told.Truth[WorldLife.Fit]
            .Keys.Where(k => k.Station == "shoulder")
            .ToDictionary(
                k => k,
                k =>
                    k.Key switch
                    {
                        "width@100" => 2.0,
                        "slope-left" or "slope-right" => -1.0,
                        "half-area-left@100" or "half-area-right@100" => 1.0,
                        _ => 0,
                    }
            );
}
