using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;
using CsCheck;

namespace BackHistory.History.Tests.Reminders;

/// <summary>What a month's proposal keeps to, whatever is wanted.</summary>
public sealed class MonthPlanTests
{
    private static readonly DateOnly First = new(2026, 12, 1);
    private static readonly DateOnly Last = new(2026, 12, 31);
    private static readonly Guid[] Fitters = [DeterministicId.From("fitter one"), DeterministicId.From("fitter two")];

    [Fact]
    public void Horses_of_one_yard_are_seen_on_one_day()
    {
        var yard = DeterministicId.From("yard");
        var plan = MonthPlan.Propose(
            [.. Enumerable.Range(0, 4).Select(i => Wanted(i, yard, First.AddDays(i * 5)))],
            [],
            [Fitters[0]],
            PlanningSetting.Default,
            First,
            Last
        );

        var stop = Assert.Single(plan.Stops);
        Assert.Equal(4, stop.Visits.Count);
        Assert.Empty(plan.Unplaced);
    }

    [Fact]
    public void A_yard_where_somebody_is_anyway_is_visited_on_that_day()
    {
        var yard = DeterministicId.From("yard");
        var booked = new FixedVisit(DeterministicId.From("booked"), yard, new DateTime(2026, 12, 10, 10, 0, 0), Fitters[0]);
        var plan = MonthPlan.Propose([Wanted(1, yard, First)], [booked], [Fitters[0]], PlanningSetting.Default, First, Last);

        Assert.Equal(new DateOnly(2026, 12, 10), Assert.Single(plan.Stops).On);
    }

    [Fact]
    public void More_horses_than_a_month_holds_leave_the_least_urgent_unplaced()
    {
        var setting = PlanningSetting.Default with { WorkDays = [DayOfWeek.Monday], VisitMinutes = 200, YardMinutes = 40 };
        var wanted = Enumerable
            .Range(0, 20)
            .Select(i => Wanted(i, DeterministicId.From($"yard {i}"), First.AddDays(i), weight: i < 3 ? 3 : 1))
            .ToList();
        var plan = MonthPlan.Propose(wanted, [], [Fitters[0]], setting, First, Last);

        // Four Mondays of two visits each.
        Assert.Equal(8, plan.Stops.Sum(s => s.Visits.Count));
        Assert.Equal(12, plan.Unplaced.Count);
        Assert.DoesNotContain(plan.Unplaced, w => w.Weight == 3);
    }

    [Fact]
    public void A_thousand_random_months_keep_to_working_days_and_hours_and_put_nobody_in_two_places()
    {
        Gen.Int[0, 1_000_000]
            .Sample(
                seed =>
                {
                    var random = new Random(seed);
                    var setting = PlanningSetting.Default with
                    {
                        VisitMinutes = random.Next(20, 120),
                        YardMinutes = random.Next(0, 90),
                        FreeDays = [First.AddDays(random.Next(0, 20))],
                        WorkDays = [.. Enum.GetValues<DayOfWeek>().Where(_ => random.Next(2) == 0).DefaultIfEmpty(DayOfWeek.Tuesday)],
                    };
                    var wanted = Enumerable
                        .Range(0, random.Next(1, 60))
                        .Select(i =>
                            Wanted(
                                i,
                                random.Next(5) == 0 ? null : DeterministicId.From($"yard {random.Next(8)}"),
                                First.AddDays(random.Next(-20, 40)),
                                random.Next(1, 4)
                            )
                        )
                        .ToList();
                    var booked = Enumerable
                        .Range(0, random.Next(0, 8))
                        .Select(i => new FixedVisit(
                            DeterministicId.From($"booked {i}"),
                            DeterministicId.From($"yard {random.Next(8)}"),
                            First.AddDays(random.Next(0, 31)).ToDateTime(new TimeOnly(random.Next(7, 18), 0)),
                            Fitters[random.Next(2)]
                        ))
                        .ToList();
                    var plan = MonthPlan.Propose(wanted, booked, [Fitters[0], Fitters[1]], setting, First, Last);

                    Assert.Equal(
                        wanted.Select(w => w.HorseId).Order(),
                        plan.Stops.SelectMany(s => s.Visits).Select(v => v.HorseId).Concat(plan.Unplaced.Select(u => u.HorseId)).Order()
                    );
                    foreach (var day in plan.Stops.GroupBy(s => (s.On, s.Fitter)))
                    {
                        Assert.Contains(day.Key.On.DayOfWeek, setting.WorkDays);
                        Assert.DoesNotContain(day.Key.On, setting.FreeDays);
                        Assert.All(
                            day.SelectMany(s => s.Visits),
                            v => Assert.True(v.At >= setting.Start && v.At.AddMinutes(v.Minutes) <= setting.End)
                        );
                        Assert.All(day.SelectMany(s => s.Visits).Select(v => v.At).GroupBy(t => t), g => Assert.Single(g));
                        var proposed = day.SelectMany(s => s.Visits.Select(v => (v.At, s.YardId))).OrderBy(v => v.At).ToList();
                        foreach (
                            var fixedVisit in booked
                                .Where(b => DateOnly.FromDateTime(b.Start) == day.Key.On && b.Fitter == day.Key.Fitter)
                                .Select(b => TimeOnly.FromDateTime(b.Start))
                        )
                            Assert.All(
                                proposed,
                                v =>
                                    Assert.True(
                                        v.At >= fixedVisit.AddMinutes(setting.VisitMinutes)
                                            || v.At.AddMinutes(setting.VisitMinutes) <= fixedVisit,
                                        $"{v} and the booked visit at {fixedVisit}"
                                    )
                            );
                        foreach (var (one, two) in proposed.Zip(proposed.Skip(1)))
                            Assert.True(
                                two.At
                                    >= one.At.AddMinutes(
                                        setting.VisitMinutes
                                            + (one.YardId is not null && one.YardId == two.YardId ? 0 : setting.YardMinutes)
                                    ),
                                $"{one} and {two}"
                            );
                    }
                },
                iter: 1000
            );
    }

    private static WantedVisit Wanted(int number, Guid? yard, DateOnly due, int weight = 1) =>
        new(DeterministicId.From($"horse {number}"), yard, due, weight, null);
}
