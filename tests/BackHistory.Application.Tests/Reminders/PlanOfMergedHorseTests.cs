using BackHistory.Application.Horses;
using BackHistory.Application.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Tests.Reminders;

/// <summary>A registration that was a second one of the same horse is planned no more.</summary>
public sealed class PlanOfMergedHorseTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    [Fact]
    public async Task It_is_not_proposed_and_booking_it_is_refused()
    {
        var practice = await acts.Found("merged and planned");
        var (stays, second) = (
            await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Dapple"),
            await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Dapple Two")
        );
        foreach (var horse in (Guid[])[stays, second])
            await practice.Yard.Visit(horse, acts.Time.Now.AddDays(-20), 45, 45);
        await acts.Store.CatchUp();
        await acts.Store.EvaluationAt(acts.Time).Run(practice.Name, default);
        var (from, to) = (new DateOnly(2026, 3, 2), new DateOnly(2028, 3, 2));
        Assert.Equal(2, (await acts.Get<PlanQueries>().Wanted(practice.Name, from, to, default)).Count);

        var merged = await acts.Get<MergeHorseRegistrations>()
            .Do(new(second, stays, "Registered twice."), practice.By(PracticeRole.Manager), default);
        Assert.Null(merged.Refused);
        await acts.Store.CatchUp();

        var wanted = await acts.Get<PlanQueries>().Wanted(practice.Name, from, to, default);
        Assert.Equal(stays, Assert.Single(wanted).HorseId);
        var booked = await acts.Get<AcceptPlannedVisit>()
            .Do(new(second, practice.Id("booking"), acts.Time.Now.AddDays(7), null), practice.By(PracticeRole.Fitter), default);
        Assert.Equal("no-such-horse", booked.Refused?.Code);
    }
}
