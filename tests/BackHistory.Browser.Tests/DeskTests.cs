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

    [Fact]
    public async Task On_a_telephone_picture_and_tools_are_seen_at_once_nothing_moves_under_the_finger_and_what_is_said_is_so()
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Phone);
        var page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse}/visits/new/desk?Station=behind-shoulder");
        var (canvas, save) = (page.Locator("#desk-canvas"), page.GetByRole(AriaRole.Button, new() { Name = "Save the tracing" }));
        await Expect(page.Locator("#desk-sheet")).ToHaveCountAsync(0);
        await canvas.ScrollIntoViewIfNeededAsync();
        var before = await canvas.EvaluateAsync<double>("c => c.getBoundingClientRect().top + scrollY");
        await Tracing.ByHand(page);
        Assert.Equal(before, await canvas.EvaluateAsync<double>("c => c.getBoundingClientRect().top + scrollY"));
        // Points that lie far apart on a flank are said while the picture lies here, and hold nothing up.
        var status = page.Locator("#desk-status");
        await Expect(status).ToContainTextAsync("It can be saved, but: A gap of ");
        await Expect(save).ToBeEnabledAsync();

        // The whole of the tools, and most of the picture over them.
        var (tools, picture) = ((await page.Locator(".tools").BoundingBoxAsync())!, (await canvas.BoundingBoxAsync())!);
        Assert.InRange(tools.Y + tools.Height, 1, Screen.Phone.Height);
        Assert.True(tools.Y - Math.Max(0, picture.Y) > 350, $"the picture is seen from {picture.Y} to the tools at {tools.Y}");
        foreach (var tool in await page.Locator(".tools button").AllAsync())
            Assert.True((await tool.BoundingBoxAsync())!.Height >= 44, await tool.InnerTextAsync());

        // Two known points tell nothing of how the picture lies: the width says so. 0.02 of some 245 mm across and down.
        var width = await page.Locator("#desk-measures tr").Filter(new() { HasText = "Width 100 mm down" }).InnerTextAsync();
        var said = System.Text.RegularExpressions.Regex.Match(width, @"([0-9.]+)\s±\s([0-9.]+)\smm");
        Assert.True(said.Success, width);
        Assert.InRange(double.Parse(said.Groups[2].Value, System.Globalization.CultureInfo.InvariantCulture), 4, 9);

        // What was taken back is not ready any more, and by Ctrl+Shift+Z it is again.
        await canvas.FocusAsync();
        for (var i = 0; i < 40 && await save.IsEnabledAsync(); i++)
        {
            await page.Keyboard.PressAsync("Control+z");
            await Expect(status).Not.ToContainTextAsync("being measured");
        }

        await Expect(status).Not.ToContainTextAsync("It can be saved");
        for (var i = 0; i < 60 && await page.Locator("#desk-redo").IsEnabledAsync(); i++)
            await page.Keyboard.PressAsync("Control+Shift+z");
        await Expect(status).ToContainTextAsync("It can be saved");
        await Expect(save).ToBeEnabledAsync();
    }
}
