using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Testing;

/// <summary>Histories of one horse from commands in any order. Pure: History's own tests compile it without the rest of this
/// project.</summary>
public static class RandomHistory
{
    /// <summary>When it begins.</summary>
    public static readonly DateTimeOffset Start = new(2024, 1, 1, 9, 0, 0, TimeSpan.Zero);

    /// <summary>Gives the commands as hands in a hurry would: many are refused.</summary>
    public static IReadOnlyList<object> Play(IReadOnlyList<(int What, int Visit, int Entry, int Day)> steps, int seed = 0)
    {
        var (history, now) = (new List<object>(), Start);
        Horse? horse = null;
        foreach (var (n, (what, visit, entry, day)) in steps.Index())
        {
            now = now.AddDays(1);
            var decided = Decide(
                horse,
                history,
                what,
                Id(seed, "visit", visit),
                Id(seed, "entry", visit * 10 + entry),
                Id(seed, "new", n),
                day,
                now,
                seed
            );
            if (decided.Refused is not null && decided.Events.Count > 0)
                throw new InvalidOperationException("What is refused changes something.");
            foreach (var e in decided.Events)
            {
                horse = Horse.After(horse, e);
                history.Add(e);
            }
        }

        return history;
    }

    private static Decided Decide(
        Horse? h,
        IReadOnlyList<object> history,
        int what,
        Guid visit,
        Guid entry,
        Guid fresh,
        int day,
        DateTimeOffset now,
        int seed
    )
    {
        var (by, taken) = (Guid.Empty, Start.AddDays(day));
        VisitEntry weight = new WeightEntry(entry, 400 + day / 10.0);
        return what switch
        {
            0 or 1 => HorseDecider.Decide(
                h,
                new RegisterHorse(
                    Id(seed, "horse", 0),
                    new HorseDetails("Random", null, new DateOnly(2023, 12, 1), null, null, null),
                    null,
                    null,
                    now,
                    by
                ),
                now
            ),
            2 or 3 => HorseDecider.Decide(
                h,
                new RecordVisit(
                    visit,
                    taken,
                    by,
                    new VisitConditions(),
                    "flexible-curve",
                    1,
                    day % 3 == 0 ? [] : [weight, new ConditionEntry(fresh, 5.5)]
                ),
                now
            ),
            4 or 5 => HorseDecider.Decide(h, new AddEntries(visit, [weight], by), now),
            6 => HorseDecider.Decide(
                h,
                new CorrectEntry(visit, entry, new WeightEntry(fresh, 500), day % 5 == 0 ? "" : "Typed wrongly.", by),
                now
            ),
            7 => HorseDecider.Decide(h, new WithdrawEntry(visit, entry, "Another horse.", by), now),
            8 => HorseDecider.Decide(h, new WithdrawVisit(visit, "Another horse.", by), now),
            9 => HorseDecider.Decide(
                h,
                new CorrectVisit(visit, taken, by, new VisitConditions(StoodSquare: false), "inclinometer", "Wrong day.", by),
                now
            ),
            10 => HorseDecider.Decide(h, new MergeVisit(visit, Id(seed, "visit", Math.Abs(day) % 4), "Entered twice.", by), history, now),
            11 => HorseDecider.Decide(h, new NoteCare(fresh, CareKind.LayOff, ZoneClock.Day(taken, TimeZoneInfo.Utc), null, by), now),
            12 => HorseDecider.Decide(h, new ChangeWork(fresh, WorkLoad.Light, null, null, taken, by), now),
            _ => day < -50
                ? h is { Withdrawn: true }
                    ? HorseDecider.Decide(h, new RestoreHorse("Withdrawn by mistake.", by), now)
                    : HorseDecider.Decide(h, new WithdrawHorse("By mistake.", by), now)
                : HorseDecider.Decide(h, new ChangeYard(fresh, taken, by), now),
        };
    }

    public static Guid Id(int seed, string what, int number) =>
        DeterministicId.From(what, seed.ToString(CultureInfo.InvariantCulture), number.ToString(CultureInfo.InvariantCulture));
}
