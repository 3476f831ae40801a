using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A practice's first letters: seen, looked at, let go.</summary>
public sealed class FirstLettersTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task The_manager_looks_at_the_first_letters_and_lets_them_go(int width)
    {
        var tenant = $"first-letters-{width}";
        await using var window = await practice.OwnPractice(tenant, Screen.Of(width), lettersLeave: false);
        var owner = await OwedLetter(tenant);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/reminders");
        await Expect(page.GetByText("One letter waits")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Look at them, then let them go" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "A check is due" }).ClickAsync();
        await Expect(page.FrameLocator("iframe[name=look]").GetByText("Dear Waiting Owner")).ToBeVisibleAsync();
        Assert.Null(await page.Keep("first-letters-1-looked-at"));

        await page.GetByRole(AriaRole.Button, new() { Name = "Let this letter go" }).ClickAsync();
        await Expect(page.GetByText("Letters leave by themselves as soon as they are due")).ToBeVisibleAsync();
        await page.Keep("first-letters-2-let-go");
        Assert.NotNull(
            (await practice.Services.GetRequiredService<PracticeQueries>().Load(tenant, CancellationToken.None))!.LettersReleasedAt
        );
        await page.GotoAsync("/reminders");
        await Expect(page.GetByText("One letter waits")).ToBeHiddenAsync();
        Assert.NotEqual(Guid.Empty, owner);
    }

    private async Task<Guid> OwedLetter(string tenant)
    {
        using var program = practice.Program(tenant);
        var owner = (
            await EveryScreen.Write(
                program,
                "/api/people",
                new
                {
                    name = "Waiting Owner",
                    email = "waiting@people.invalid",
                    role = "owner",
                }
            )
        ).GetProperty("id").GetGuid();
        var horse = (await EveryScreen.Write(program, "/api/horses", new { name = "Waiting Horse", ownerId = owner }))
            .GetProperty("id")
            .GetGuid();
        var (id, now) = (DeterministicId.From("first", tenant), TestClock.Running.GetUtcNow());
        var day = ZoneClock.Day(now, TimeZoneInfo.Utc);
        // Due far ahead, so that it keeps its ground whatever the rules find of this horse meanwhile.
        var due = day.AddYears(20);
        var evidence = Evidence.WithoutMeasure(day, 1, due, "A check is due.");
        var letter = new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, owner), LetterKind.OwnerCheck, owner);
        await practice
            .Services.GetRequiredService<Commands>()
            .Execute<Reminder>(
                new CommandContext(tenant, Guid.Empty, "raise", "", null, now),
                id,
                r =>
                    ReminderDecider.Decide(
                        r,
                        new RaiseReminder(id, horse, null, ReminderRule.CheckDue, evidence, [letter], Guid.Empty),
                        now
                    ),
                CancellationToken.None
            );
        await RunningPractice.Until(async () => (await program.GetAsync($"/api/horses/{horse}")).IsSuccessStatusCode);
        return owner;
    }
}
