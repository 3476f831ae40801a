using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Testing;

namespace BackHistory.Benchmarks.History;

/// <summary>Histories of horses as deciders make them, for benches that need many events and no service.</summary>
static class InventedEvents
{
    internal const int VisitsPerHorse = 24;

    /// <summary>Events of one visit: the visit, a cross-section, two readings, the condition and the weight.</summary>
    internal const int EventsPerVisit = 6;

    /// <summary>Whoever measured everything.</summary>
    internal static readonly Person Fitter = new(DeterministicId.From("fitter"), "Fitter", null, null, null, PersonRole.Fitter, "en");

    private static readonly DateTimeOffset Start = new(2015, 1, 10, 9, 0, 0, TimeSpan.Zero);

    internal static Guid HorseId(string practice, int horse) =>
        DeterministicId.From("bench horse", practice, horse.ToString(CultureInfo.InvariantCulture));

    internal static RegisterHorse Register(string practice, int horse) =>
        new(
            HorseId(practice, horse),
            new HorseDetails($"Horse {horse}", Sex.Mare, new DateOnly(2010, 5, 1), 1600, null, null),
            null,
            null,
            Start.AddDays(-1),
            Fitter.Id
        );

    /// <summary>Every horse's visits lie two months apart; no two hold the same numbers.</summary>
    internal static RecordVisit Visit(string practice, int horse, int visit)
    {
        var random = new Random(horse * 1000 + visit);
        var slope = 38 + 8 * random.NextDouble();
        Guid Id(string what) =>
            DeterministicId.From(
                what,
                practice,
                horse.ToString(CultureInfo.InvariantCulture),
                visit.ToString(CultureInfo.InvariantCulture)
            );
        return new RecordVisit(
            Id("visit"),
            Start.AddDays(visit * 60),
            Fitter.Id,
            new VisitConditions(),
            "flexible-curve",
            1,
            [
                new TracingEntry(Id("section"), Backs.Section(slope, slope + random.NextDouble())),
                new ReadingEntry(Id("left"), "read-slope-left", "shoulder", Math.Round(slope, 1)),
                new ReadingEntry(Id("right"), "read-slope-right", "shoulder", Math.Round(slope + 1, 1)),
                new ConditionEntry(Id("condition"), 5.5),
                new WeightEntry(Id("weight"), Math.Round(500 + 40 * random.NextDouble())),
            ]
        );
    }

    internal static DateTimeOffset At(int visit) => Start.AddDays(visit * 60).AddHours(2);

    /// <summary>The same history as plain events, in order.</summary>
    internal static IReadOnlyList<object> Events(string practice, int horse, int visits)
    {
        var events = new List<object>(HorseDecider.Decide(null, Register(practice, horse), Start).Events);
        var known = Horse.After(null, events[0]);
        for (var v = 0; v < visits; v++)
            events.AddRange(HorseDecider.Decide(known, Visit(practice, horse, v), At(v)).Events);
        return events;
    }
}
