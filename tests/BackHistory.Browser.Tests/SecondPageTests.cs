using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>What does not fit on the first page is reached by its link, and every link leads where it says.</summary>
public sealed partial class SecondPageTests(RunningPractice practice)
{
    [Fact]
    public async Task More_reminders_are_other_reminders()
    {
        const int OnePage = 30;
        await using var window = await practice.OwnPractice("second-page", Screen.Desk);
        var commands = practice.Services.GetRequiredService<Commands>();
        for (var i = 0; i <= OnePage; i++)
        {
            var (id, now) = (DeterministicId.From("second page", $"{i}"), DateTimeOffset.UnixEpoch.AddYears(51).AddMinutes(i));
            var evidence = Evidence.WithoutMeasure(new DateOnly(2021, 1, 1), 1, null, "No visit is on record.");
            await commands.Execute<Reminder>(
                new CommandContext("second-page", Guid.Empty, $"raise {i}", "", 0, now),
                id,
                r =>
                    ReminderDecider.Decide(
                        r,
                        new RaiseReminder(id, DeterministicId.From("horse", $"{i}"), null, ReminderRule.CheckDue, evidence, [], Guid.Empty),
                        now
                    ),
                CancellationToken.None
            );
        }

        var page = await window.NewPageAsync();
        await page.GotoAsync("/reminders");
        var first = await Ids(page, "article.reminder");
        await page.GetByRole(AriaRole.Link, new() { Name = "More reminders" }).ClickAsync();
        await Expect(page.Locator($"article.reminder >> nth=0")).Not.ToHaveIdAsync(first[0]);
        var second = await Ids(page, "article.reminder");
        Assert.NotEmpty(second);
        Assert.Empty(first.Intersect(second));
    }

    [Fact]
    public async Task The_audit_goes_back_page_by_page_and_shows_one_horse_when_asked()
    {
        await using var window = await practice.SignedIn(PracticeRole.Administrator, Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/audit?show=changed");
        var first = await page.Locator("tbody").InnerTextAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Earlier" }).ClickAsync();
        await Expect(page).ToHaveURLAsync(AfterSomething());
        Assert.NotEqual(first, await page.Locator("tbody").InnerTextAsync());

        var horse = page.Locator("tbody tr a").First;
        var name = await horse.InnerTextAsync();
        await horse.ClickAsync();
        await Expect(page.GetByText($"All horses, not only {name}")).ToBeVisibleAsync();
        Assert.Equal([name], (await page.Locator("tbody tr td:nth-child(2)").AllInnerTextsAsync()).Distinct());
    }

    [Fact]
    public async Task A_watched_measure_leads_to_its_chart_at_its_station()
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse}");
        await page.GetByText("Every watched measure since").ClickAsync();
        var link = page.Locator("[aria-label='Every watched measure'] a:text('last rib')").First;
        await link.ClickAsync();
        await Expect(page.Locator("#station")).ToHaveValueAsync("last-rib");
    }

    private static async Task<string[]> Ids(IPage page, string of) =>
        await page.Locator(of).EvaluateAllAsync<string[]>("all => all.map(a => a.id)");

    [GeneratedRegex("&after=", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex AfterSomething();
}
