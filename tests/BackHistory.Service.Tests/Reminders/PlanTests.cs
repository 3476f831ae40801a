using System.Globalization;
using System.Net;
using System.Text.Json;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A month's proposal, what a person makes of it, and the calendar that follows.</summary>
public sealed class PlanTests(RunningService service)
{
    [Fact]
    public async Task A_proposed_visit_that_is_accepted_stands_in_the_calendar_until_its_address_is_revoked()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Planned Horse");
        await service.Person(RunningService.Mine, "Planning Fitter", PersonRole.Fitter);
        var (month, proposed) = await Proposed(client, reminder.HorseId);
        Assert.Equal(reminder.Id, proposed.GetProperty("reminderId").GetGuid());

        var at = Given.InDays(30);
        var accepted = await (
            await client.Write(
                HttpMethod.Post,
                "/api/plan/accept",
                new { visits = new[] { new { horseId = reminder.HorseId, at } } },
                key: "accept-planned"
            )
        ).Json();
        Assert.Equal(reminder.Id, accepted[0].GetProperty("reminderId").GetGuid());
        await client.Write(
            HttpMethod.Post,
            "/api/plan/accept",
            new { visits = new[] { new { horseId = reminder.HorseId, at } } },
            key: "accept-planned"
        );
        Assert.Equal((ReminderState.Booked, 0), ((await service.Load(reminder)).State, (await service.Load(reminder)).BookingSequence));
        Assert.DoesNotContain(
            reminder.HorseId.ToString(),
            await client.GetStringAsync($"/api/plan?month={month}"),
            StringComparison.Ordinal
        );

        var made = await (await client.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "The practice's visits" })).Json();
        var address = new Uri(made.GetProperty("url").GetString()!).AbsolutePath;
        using var reader = service.Anonymous();
        var calendar = Ical.Net.Calendar.Load(await reader.GetStringAsync(address))!;
        Assert.Contains(
            calendar.Events,
            e => e.Summary == "Planned Horse" && Math.Abs((e.Start!.AsUtc - at.ToUniversalTime().DateTime).TotalSeconds) < 1
        );
        Assert.DoesNotContain("Owner of Planned Horse", await reader.GetStringAsync(address), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync(address + "x")).StatusCode);

        Assert.Equal(
            HttpStatusCode.NoContent,
            (await client.DeleteAsync($"/api/calendar-feeds/{made.GetProperty("id").GetGuid()}")).StatusCode
        );
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync(address)).StatusCode);
    }

    [Fact]
    public async Task A_visit_that_is_declined_is_put_off_and_proposed_no_more_in_that_month()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Declined Horse");
        var (month, _) = await Proposed(client, reminder.HorseId);
        var until = DateOnly.ParseExact(month, "yyyy-MM", CultureInfo.InvariantCulture).AddMonths(1);

        var declined = await client.Write(
            HttpMethod.Post,
            "/api/plan/decline",
            new
            {
                horseId = reminder.HorseId,
                until,
                reason = "The owner is away.",
            }
        );
        Assert.Equal(HttpStatusCode.OK, declined.StatusCode);
        Assert.Equal((ReminderState.PutOff, until), ((await service.Load(reminder)).State, (await service.Load(reminder)).PutOffUntil));
        Assert.DoesNotContain(
            reminder.HorseId.ToString(),
            await client.GetStringAsync($"/api/plan?month={month}"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_check_that_falls_due_later_is_booked_early_and_stands_until_the_visit()
    {
        using var client = service.Client();
        var owner = await service.Person(RunningService.Mine, "Owner of Foreseen Horse");
        var horse = await LetterTests.Fitted(client, owner, "Foreseen Horse");
        var assessment = await Given.Wait(async () =>
            await service.Queries().Assessment(RunningService.Mine, horse, CancellationToken.None) is { Saddles.Count: 1 } a ? a : null
        );
        Assert.True(
            assessment.NextCheckDue > ZoneClock.Day(TestClock.Running.GetUtcNow(), TimeZoneInfo.Utc),
            $"due {assessment.NextCheckDue}"
        );

        var accepted = await (
            await client.Write(
                HttpMethod.Post,
                "/api/plan/accept",
                // A visit ends what is booked for its own day, and leaves what is booked for a later one.
                new { visits = new[] { new { horseId = horse, at = Given.InDays(0).AddHours(6) } } }
            )
        ).Json();
        var begun = (
            await service.Queries().Load(RunningService.Mine, accepted[0].GetProperty("reminderId").GetGuid(), CancellationToken.None)
        )!;
        Assert.Equal((ReminderRule.CheckDue, ReminderState.Booked), (begun.Rule, begun.State));
        await Given.Wait(async () =>
            (await service.Load(begun)).Post.FirstOrDefault(l => l is { Kind: LetterKind.BookingMade, State: LetterState.Sent })
        );

        await LetterTests.Visit(client, horse, 0, 45, 45);
        var done = await Given.Wait(async () => await service.Load(begun) is { State: ReminderState.Done } r ? r : null);
        Assert.NotNull(done.ResolvedByVisit);
    }

    [Fact]
    public async Task A_month_that_is_over_or_none_is_refused()
    {
        using var client = service.Client();
        foreach (var month in new[] { "2020-01", "next", "2026-13" })
            Assert.Equal(HttpStatusCode.UnprocessableEntity, (await client.GetAsync($"/api/plan?month={month}")).StatusCode);
        Assert.Contains("This month is over", await client.GetStringAsync("/plan?month=2020-01"), StringComparison.Ordinal);
    }

    /// <summary>The month whose plan holds the horse: this one, or the next on a month's last days.</summary>
    private static async Task<(string Month, JsonElement Visit)> Proposed(HttpClient client, Guid horse)
    {
        var first = TestClock.Running.GetUtcNow().AddDays(8);
        var month = first.ToString("yyyy-MM", CultureInfo.InvariantCulture);
        var plan = await (await client.GetAsync($"/api/plan?month={month}")).Json();
        var visits = plan.GetProperty("stops").EnumerateArray().SelectMany(s => s.GetProperty("visits").EnumerateArray()).ToList();
        return (month, Assert.Single(visits, v => v.GetProperty("horseId").GetGuid() == horse));
    }
}
