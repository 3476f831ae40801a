using System.Net;
using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Language;
using BackHistory.Reports.Sheets;
using BackHistory.Service.Reminders;
using BackHistory.Service.Saddles;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Reminders;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A caution to see a veterinary surgeon, from its letter to the word that the horse is cleared.</summary>
public sealed class VetHoldTests(RunningService service)
{
    private static readonly DateTimeOffset Now = TestClock.Running.GetUtcNow();

    private ReminderQueries Queries => service.Services.GetRequiredService<ReminderQueries>();

    [Theory]
    [InlineData("en", "Has a vet seen your horse?")]
    [InlineData("de", "Tierärztlich untersucht?")]
    public async Task The_answer_that_the_vet_has_seen_the_horse_is_kept_as_that_and_not_as_a_wish_for_a_visit(string language, string asks)
    {
        var (_, caution) = await Caution($"Seen Horse {language}");
        var owner = await service.Person(RunningService.Mine, $"Owner Who Called {language}");
        var address = new Uri(
            service.Services.GetRequiredService<AnswerLinks>().Answer(RunningService.Mine, caution, Answer.VetHasSeen, owner, language)
        ).AbsolutePath;
        using var reader = service.Anonymous();
        Assert.Contains(asks, WebUtility.HtmlDecode(await reader.GetStringAsync(address)), StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.Redirect, (await reader.PostAsync(address, new FormUrlEncodedContent([new("words", "")]))).StatusCode);

        Assert.Equal(Answer.VetHasSeen, (await Queries.Load(RunningService.Mine, caution, CancellationToken.None))!.Answer);
    }

    [Fact]
    public async Task A_letter_of_an_earlier_release_that_said_so_over_another_link_is_understood()
    {
        var (_, caution) = await Caution("Seen Before");
        var owner = await service.Person(RunningService.Mine, "Owner Who Called Before");
        var address = new Uri(
            service.Services.GetRequiredService<AnswerLinks>().Answer(RunningService.Mine, caution, Answer.Book, owner)
        ).AbsolutePath;
        using var reader = service.Anonymous();
        await reader.PostAsync(address, new FormUrlEncodedContent([new("words", "")]));
        Assert.Equal(Answer.VetHasSeen, (await Queries.Load(RunningService.Mine, caution, CancellationToken.None))!.Answer);
    }

    [Fact]
    public async Task A_reminder_that_is_no_caution_does_not_take_the_vets_answer()
    {
        using var client = service.Client();
        var horse = await client.Horse("No Caution");
        var id = await Raise(horse, ReminderRule.CheckDue);
        var refused = await client.Write(HttpMethod.Post, $"/api/reminders/{id}/answer", new { answer = "vet-has-seen" });
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
    }

    [Fact]
    public async Task Closing_a_caution_writes_to_nobody_until_somebody_says_that_the_vet_has_cleared_the_horse()
    {
        using var client = service.Client();
        var horse = await client.Horse("Closed Caution");
        // Last measured years ago: a check is due.
        var visit = new
        {
            takenAt = "2024-05-01T10:00:00Z",
            method = "flexible-curve",
            entries = new[] { ClientExtensions.Section(45, 44) },
        };
        Assert.True((await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit)).IsSuccessStatusCode);
        await Wait(async () =>
            await Queries.Assessment(RunningService.Mine, horse, CancellationToken.None) is { } a && a.NextCheckDue <= a.AsOf
        );
        var other = await Raise(horse, ReminderRule.CheckDue);
        var caution = await Raise(horse, ReminderRule.VetCaution);
        await Muted(other);

        Assert.True(
            (await client.Write(HttpMethod.Post, $"/api/reminders/{caution}/close", new { reason = "Seen on Monday." })).IsSuccessStatusCode
        );
        await Wait(async () =>
            (await Queries.Load(RunningService.Mine, other, CancellationToken.None))!.MutedBecause == MuteReason.AwaitsVet
        );
        using var fitter = await service.SignedIn(await service.Member("Fitter Of The Closed", (RunningService.Mine, PracticeRole.Fitter)));
        await fitter.Until($"/horses/{horse}", "The vet has cleared the horse");

        var cleared = await client.Write(HttpMethod.Post, $"/api/reminders/{caution}/vet-cleared", new { words = "She said so." });
        Assert.True(cleared.IsSuccessStatusCode);
        await Wait(async () => (await Queries.Load(RunningService.Mine, other, CancellationToken.None))!.State != ReminderState.Muted);
        Assert.False((await Queries.Load(RunningService.Mine, caution, CancellationToken.None))!.AwaitsVet);
    }

    [Fact]
    public async Task The_benchs_paper_says_to_the_vet_first_as_the_saddles_page_does()
    {
        using var client = service.Client();
        var horse = await client.Horse("Bench With Caution");
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "Bench caution 3" })).Json())
            .GetProperty("id")
            .GetGuid();
        var work = new
        {
            kind = "set",
            horseId = horse,
            takenAt = "2026-02-10T11:00:00Z",
            done = new[]
            {
                new
                {
                    part = "tree",
                    side = "left",
                    to = "6",
                },
            },
        };
        Assert.True((await client.Write(HttpMethod.Post, $"/api/saddles/{saddle}/work", work)).IsSuccessStatusCode);
        var proposals = service.Services.GetRequiredService<SaddleProposals>();
        await Wait(async () => await proposals.Load(RunningService.Mine, saddle, horse, CancellationToken.None) is not null);
        Assert.Empty((await Paper()).First);

        await Raise(horse, ReminderRule.VetCaution);

        Assert.Equal(
            [
                "To the vet first, before the saddle is changed. Something was found.",
                $"This caution stands since {Formatter.Metric.Day(ZoneClock.Day(Now, TimeZoneInfo.Utc))}.",
            ],
            (await Paper()).First
        );
        Assert.Equal(
            "Something was found.",
            (await client.GetFromJson($"/api/saddles/{saddle}/horses/{horse}/proposal")).GetProperty("vetFirst").GetString()
        );
        using var fitter = await service.SignedIn(await service.Member("Fitter With Caution", (RunningService.Mine, PracticeRole.Fitter)));
        var page = WebUtility.HtmlDecode(await fitter.Page($"/saddles/{saddle}?horse={horse}"));
        Assert.All(
            (await Paper()).First,
            said => Assert.All(said.Split(". "), part => Assert.Contains(part, page, StringComparison.Ordinal))
        );

        async Task<SettingSheetInput> Paper() =>
            BenchPapers.Sheet((await proposals.Load(RunningService.Mine, saddle, horse, CancellationToken.None))!, null);
    }

    private async Task<(Guid Horse, Guid Caution)> Caution(string name)
    {
        using var client = service.Client();
        var horse = await client.Horse(name);
        return (horse, await Raise(horse, ReminderRule.VetCaution));
    }

    private async Task<Guid> Raise(Guid horse, ReminderRule rule)
    {
        var id = DeterministicId.From("raised", horse.ToString(), rule.ToString());
        var day = ZoneClock.Day(Now, TimeZoneInfo.Utc);
        var evidence = Evidence.WithoutMeasure(day, 1, day, "Something was found.");
        await service
            .Services.GetRequiredService<NotifyingCommands>()
            .Execute<Reminder>(
                new CommandContext(RunningService.Mine, Guid.Empty, $"raise:{id}", "", null, Now),
                id,
                r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, rule, evidence, [], Guid.Empty), Now),
                CancellationToken.None
            );
        return id;
    }

    private Task Muted(Guid reminder) =>
        Wait(async () => (await Queries.Load(RunningService.Mine, reminder, CancellationToken.None))!.State == ReminderState.Muted);

    private static async Task Wait(Func<Task<bool>> there)
    {
        for (var i = 0; i < 3000; i++)
        {
            if (await there())
                return;
            await Task.Delay(100);
        }

        Assert.Fail("it did not come about in five minutes");
    }
}
