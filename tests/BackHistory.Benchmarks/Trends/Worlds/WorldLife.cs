using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>One horse as its practice lives with it: judged at every visit by what was known then, by the service's own code.</summary>
/// <param name="Visits">From the fit on, the fit's own visit left out.</param>
sealed record WorldLife(WorldHorse Horse, WorldVisits Told, IReadOnlyList<WorldLife.Visit> Visits)
{
    /// <param name="Past">A watched measure has truly passed its limit, by the exact contours.</param>
    /// <param name="P">As told; null where nothing was.</param>
    /// <param name="Held">Told to trace again.</param>
    internal readonly record struct Visit(
        int Index,
        double Day,
        WatchState State,
        double? P,
        string? Caution,
        bool Held,
        bool Past,
        double Ahead,
        bool PastAhead
    );

    static readonly Guid Id = DeterministicId.From("horse");

    /// <summary>The visit of the fit among the visits.</summary>
    internal const int Fit = 1;

    internal double Years => (Told.Days[^1] - Told.Days[Fit]) / 365.25;

    internal static WorldLife Of(WorldHorse horse, WorldVisits told, Practice practice)
    {
        var profile = new HorseProfile
        {
            Id = Id,
            Fits =
            [
                new(DeterministicId.From("saddle"), DeterministicId.From("work"), null, told.Records[Fit].TakenAt, Set: true, Fresh: false),
            ],
            RegisteredAt = told.Records[0].TakenAt,
            Foaled = horse.Family switch
            {
                WorldFamily.Young => told.DayOf(0).AddYears(-3),
                WorldFamily.Old => told.DayOf(0).AddYears(-20),
                _ => told.DayOf(0).AddYears(-10),
            },
        };
        Assessment? earlier = null;
        var lived = new List<Visit>();
        for (var v = Fit + 1; v < told.Records.Length; v++)
        {
            earlier = Assessing.Assess(profile, told.Records[..(v + 1)], practice, told.DayOf(v), 0, earlier);
            var decision = earlier.Saddles[0].Decision;
            var half = Array.FindIndex(told.Days, d => d >= told.Days[v] + 180);
            lived.Add(
                new(
                    v,
                    told.Days[v],
                    decision.State,
                    decision.P,
                    decision.Caution?.Side,
                    decision.Leaning is not null || decision.Measures.Any(m => m.MeasureAgain),
                    PastAt(told, v),
                    decision.PByMonth.Count > 6 ? decision.PByMonth[6] : double.NaN,
                    half >= 0 && PastAt(told, half)
                )
            );
        }
        return new(horse, told, lived);
    }

    /// <summary>By the exact contours and the shipped limits.</summary>
    static bool PastAt(WorldVisits told, int visit)
    {
        foreach (var (key, was) in told.Truth[Fit])
            if (
                WatchRules.Default.ThresholdOf(key.Key) is { } threshold
                && told.Truth[visit].TryGetValue(key, out var value)
                && Math.Abs(value - was) > threshold.At(was)
            )
                return true;
        return false;
    }

    /// <summary>How often it was newly called to refit while nothing was past.</summary>
    internal int FalseRefits
    {
        get
        {
            var (count, before) = (0, WatchState.Steady);
            foreach (var v in Visits)
            {
                if (v is { State: WatchState.Refit, Past: false } && before != WatchState.Refit)
                    count++;
                before = v.State;
            }
            return count;
        }
    }

    /// <summary>How often a caution was newly raised for a side that has not lost by itself.</summary>
    internal int FalseCautions
    {
        get
        {
            var (count, before) = (0, (string?)null);
            foreach (var v in Visits)
            {
                if (v.Caution is not null && before is null && !(Horse.Fate == WorldFate.LosesOneHalf && Loses(v)))
                    count++;
                before = v.Caution;
            }
            return count;
        }
    }

    bool Loses(Visit v) => v.Day >= Horse.Onset && v.Caution == (Horse.Left ? "left" : "right");

    /// <summary>Whether it was called to refit between the beginning of the change and the n-th visit after its completion.</summary>
    /// <returns>Null where there is no such visit.</returns>
    internal bool? FoundBy(int visit, Func<Visit, bool> alarm)
    {
        var after = 0;
        foreach (var v in Visits)
        {
            if (v.Day < Horse.Onset)
                continue;
            if (alarm(v))
                return true;
            if (v.Day >= Horse.Complete && ++after == visit)
                return false;
        }
        return null;
    }

    internal bool CautionFor(Visit v) => v.Caution is not null && Loses(v);
}
