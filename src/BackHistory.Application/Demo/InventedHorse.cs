using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.Shape.Gauges;

namespace BackHistory.Application.Demo;

/// <summary>One invented horse: the commands that its practice gave about it, in order.</summary>
internal sealed class InventedHorse(InventedPractice practice, int seed, int index, DateOnly today, bool losesOneSide)
{
    private static readonly Gauge BenchGauge = Gauge.Create("Bench gauge", "slope", "deg", InventedPractice.Bench(Guid.Empty).Marks).Gauge!;

    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    /// <summary>What its back truly did: for whoever compares what is said of it. Nobody in the program sees it.</summary>
    public InventedLife Truth => new(new Chance(seed), practice.Start, today, losesOneSide);

    public string Name => InventedNames.Horse(index);

    public IEnumerable<InventedStep> Steps()
    {
        var chance = new Chance(seed);
        var life = new InventedLife(chance, practice.Start, today, losesOneSide);
        var (horse, saddle) = (chance.Id(), chance.Id());
        var first = practice.Start.AddDays(chance.Whole(0, 120));
        var register = Register(chance, life, horse, Morning(first, 7));
        yield return Step(register.TakenAt, horse, (h, now) => HorseDecider.Decide(h, register, now));
        var details = new SaddleDetails(
            $"{100 + index}",
            chance.OneOf(["wide tree", "medium tree", "adjustable tree"]),
            "wool",
            "short girth",
            InventedPractice.BenchGauge
        );
        yield return Saddle(
            Morning(first, 7.1),
            saddle,
            horse,
            (s, _, now) => SaddleDecider.Decide(s, new RegisterSaddle(saddle, details, null, now, practice.Fitters[0].Id))
        );
        foreach (var (from, until) in life.LayOffs)
        {
            if (from > today)
                continue;
            var note = new NoteCare(chance.Id(), CareKind.LayOff, from, until <= today ? until : null, practice.Manager.Id);
            yield return Step(Morning(from, 12), horse, (h, now) => HorseDecider.Decide(h, note, now));
        }

        var fitted = new InventedSection(0, 0, 0, 0, 0);
        var visits = 0;
        for (var day = first; day <= today.AddDays(-2); day = day.AddDays(Gap(chance, life, day)))
        {
            var at = Morning(day, chance.Uniform(8, 17));
            var visit = chance.Id();
            var fitter = (index + (chance.Happens(0.25) ? 1 : 0)) % practice.Fitters.Count;
            foreach (var step in Visit(chance, life, horse, visit, at, fitter))
                yield return step;
            var truth = life.Section("behind-shoulder", day);
            var moved = Math.Max(Math.Abs(truth.SlopeLeft - fitted.SlopeLeft), Math.Abs(truth.SlopeRight - fitted.SlopeRight));
            // Most saddles that no longer fit are set on the spot; some wait for the bench, and those are what the caseload is for. One
            // of a horse that is hollow on one side waits for the veterinary surgeon.
            if (visits > 0 && !(moved > 1.8 && chance.Happens(0.7) && !(life.OneSidedFrom < day)))
            {
                visits++;
                continue;
            }
            yield return Work(chance, saddle, horse, visit, at.AddMinutes(50), fitter, visits == 0, fitted, truth);
            fitted = truth;
            visits++;
        }
    }

    private IEnumerable<InventedStep> Visit(Chance chance, InventedLife life, Guid horse, Guid visit, DateTimeOffset at, int fitter)
    {
        var day = DateOnly.FromDateTime(at.Date);
        var hand = InventedPractice.HandOf(fitter, chance);
        var by = practice.Fitters[fitter].Id;
        // What changes from day to day though the back did not: stance, breathing, the place of the station.
        var stance = hand with
        {
            Lean = hand.Lean + chance.Normal(0, 0.35),
        };
        var entries = new List<VisitEntry>();
        foreach (var station in Stations)
        {
            if (chance.Happens(0.06))
                continue;
            entries.Add(new TracingEntry(chance.Id(), InventedBack.Section(life.Section(station, day), station, stance, chance)));
            if (station == "behind-shoulder" && chance.Happens(0.2))
                entries.Add(new TracingEntry(chance.Id(), InventedBack.Section(life.Section(station, day), station, stance, chance)));
        }

        var top = life.Topline(day);
        entries.Add(
            new TracingEntry(
                chance.Id(),
                InventedBack.Topline(top with { Drop = Math.Max(2, top.Drop + chance.Normal(0, 4)) }, stance, chance)
            )
        );
        var truth = life.Section("behind-shoulder", day);
        if (chance.Happens(0.7))
        {
            entries.Add(
                new ReadingEntry(
                    chance.Id(),
                    "read-slope-left",
                    "behind-shoulder",
                    Math.Round(truth.SlopeLeft + stance.Lean + chance.Normal(0, 1), 0)
                )
            );
            entries.Add(
                new ReadingEntry(
                    chance.Id(),
                    "read-slope-right",
                    "behind-shoulder",
                    Math.Round(truth.SlopeRight + stance.Lean + chance.Normal(0, 1), 0)
                )
            );
        }

        entries.Add(new ConditionEntry(chance.Id(), life.Condition(day)));
        entries.Add(new MuscleEntry(chance.Id(), "back", MuscleScales.BuiltIn, life.Muscle(day)));
        var kilograms = Math.Round(life.Kilograms(day) * (1 + chance.Normal(0, 0.008)));
        var weighed = chance.Id();
        // A slip of the hand, found a day later: the history keeps both.
        var slipped = chance.Happens(0.02);
        entries.Add(new WeightEntry(weighed, slipped ? kilograms - 200 : kilograms));
        var conditions = new VisitConditions(
            LevelGround: !chance.Happens(0.04),
            StoodSquare: !chance.Happens(0.08),
            RiddenInLastTwoHours: chance.Happens(0.1),
            BodyWorkInLastDay: chance.Happens(0.04)
        );
        yield return Step(
            at.AddMinutes(40),
            horse,
            (h, now) => HorseDecider.Decide(h, new RecordVisit(visit, at, by, conditions, "flexible-curve", 1, entries), now)
        );
        if (!slipped)
            yield break;
        var replacement = new WeightEntry(chance.Id(), kilograms);
        yield return Step(
            at.AddDays(1),
            horse,
            (h, now) => HorseDecider.Decide(h, new CorrectEntry(visit, weighed, replacement, "Typed 200 kg too little.", by), now)
        );
    }

    private InventedStep Work(
        Chance chance,
        Guid saddle,
        Guid horse,
        Guid visit,
        DateTimeOffset at,
        int fitter,
        bool isFirst,
        InventedSection before,
        InventedSection after
    )
    {
        var done = new List<Adjustment>();
        if (isFirst)
        {
            foreach (var (side, now) in new[] { ("left", after.SlopeLeft), ("right", after.SlopeRight) })
                done.Add(new Adjustment("tree", side, null, Mark(now), InventedPractice.BenchGauge));
        }
        else
        {
            foreach (
                var (side, was, now) in new[]
                {
                    ("left", before.SlopeLeft, after.SlopeLeft),
                    ("right", before.SlopeRight, after.SlopeRight),
                }
            )
                done.Add(new Adjustment("tree", side, Mark(was), Mark(now), InventedPractice.BenchGauge));
        }

        var flocked = !isFirst && chance.Happens(0.3);
        if (flocked)
            done.Add(new Adjustment("flocking", null, null, "topped up"));
        var work = chance.Id();
        var set = isFirst || !flocked;
        var command = new RecordWork(work, horse, visit, set, isFirst && chance.Happens(0.3), done, at, practice.Fitters[fitter].Id);
        return Saddle(at, saddle, horse, (s, h, now) => SaddleDecider.Decide(s, command, h, now));
    }

    private static string? Mark(double slope) => BenchGauge.AtValue(slope) is { } reading ? GaugeText.Write(reading) : null;

    private RegisterHorse Register(Chance chance, InventedLife life, Guid horse, DateTimeOffset now) =>
        new(
            horse,
            new HorseDetails(
                InventedNames.Horse(index),
                chance.OneOf([Sex.Mare, Sex.Gelding, Sex.Gelding, Sex.Stallion]),
                life.Foaled,
                chance.Whole(1400, 1740),
                chance.OneOf(InventedNames.Breeds),
                chance.OneOf(InventedNames.Colours)
            ),
            practice.Owners[index * 7 % practice.Owners.Count].Id,
            practice.Yards[index * 5 % practice.Yards.Count].Id,
            now,
            practice.Manager.Id
        );

    private static int Gap(Chance chance, InventedLife life, DateOnly day)
    {
        var gap = chance.Whole(60, 180);
        if (chance.Happens(0.1))
            gap += chance.Whole(60, 150);
        // In its last months the horse that loses one side is seen more often.
        return life.OneSidedFrom is { } from && day.AddDays(40) > from.AddDays(-60) ? Math.Min(gap, 45) : gap;
    }

    private static InventedStep Step(DateTimeOffset at, Guid horse, Func<Horse?, DateTimeOffset, History.Decided> decide) =>
        new(at, horse, new InventedCommand.OfHorse(decide));

    private static InventedStep Saddle(
        DateTimeOffset at,
        Guid saddle,
        Guid horse,
        Func<Saddle?, Horse?, DateTimeOffset, History.Decided> decide
    ) => new(at, saddle, new InventedCommand.OfSaddle(horse, decide));

    private static DateTimeOffset Morning(DateOnly day, double hour) =>
        new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero).AddMinutes(Math.Round(hour * 60));
}
