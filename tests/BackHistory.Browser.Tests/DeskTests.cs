using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>The tracing desk under a hand that is quicker than its script, and one that changes its mind.</summary>
public sealed class DeskTests(RunningPractice practice)
{
    [Fact]
    public async Task A_station_chosen_before_the_script_ran_is_the_one_that_is_traced()
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Phone);
        var page = await window.NewPageAsync();
        var chosen = new TaskCompletionSource();
        await page.RouteAsync(
            "**/js/desk*.js",
            async route =>
            {
                await chosen.Task;
                await route.ContinueAsync();
            }
        );
        await page.GotoAsync($"/horses/{horse}/visits/new/desk", new() { WaitUntil = WaitUntilState.Commit });
        await page.GetByLabel("What is traced").SelectOptionAsync("mid-back");
        chosen.SetResult();
        await Expect(page.Locator("#desk-what")).ToContainTextAsync("mid-back");
        await Tracing.ByHand(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the tracing" }).ClickAsync();
        await Expect(page.Locator("[data-tracings=mid-back]")).ToContainTextAsync("mid-back");
    }

    [Fact]
    public async Task Turning_to_another_station_keeps_what_was_traced_of_the_first_and_shows_the_others_own_earlier_curve()
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        var visit = await EveryScreen.Visit(program, horse);
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse}/visits/{visit}/desk?Station=shoulder");
        await Tracing.ByHand(page);
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).ToBeEnabledAsync();

        var earlier = await page.RunAndWaitForRequestAsync(
            () => page.GetByLabel("What is traced").SelectOptionAsync("last-rib"),
            r => r.Url.Contains("/contours/", StringComparison.Ordinal)
        );
        Assert.EndsWith($"/contours/cross-section?station=last-rib&before={visit}", earlier.Url, StringComparison.Ordinal);
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).ToBeDisabledAsync();

        await page.GetByLabel("What is traced").SelectOptionAsync("shoulder");
        await Expect(page.GetByText("Your last tracing of this station is still here.")).ToBeVisibleAsync();
    }
}
