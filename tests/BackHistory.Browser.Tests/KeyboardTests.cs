using System.Net.Http.Json;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>The fitter's day with the keyboard alone: no pointer touches anything, and whoever looks always sees where they are.</summary>
public sealed class KeyboardTests(RunningPractice practice)
{
    private const int MostSteps = 120;

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task A_visit_is_found_entered_traced_and_saved_with_the_keyboard_alone(int width)
    {
        using var program = practice.Program();
        var horse = (await program.GetFromJsonAsync<CaseloadPage>("/api/caseload?limit=40&sort=name"))!.Items[
            width == Screen.Phone.Width ? 2 : 3
        ];
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Of(width) with { Touch = false });
        var page = await window.NewPageAsync();
        await page.GotoAsync("/");
        await IsThere(page);

        await page.Keyboard.PressAsync("/");
        await Expect(page.Locator("#find")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync(horse.Name);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page).ToHaveTitleAsync(new Regex("Find|" + horse.Name, default, Regex.InfiniteMatchTimeout));
        await To(page, horse.Name);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = horse.Name, Exact = true })).ToBeVisibleAsync();
        await To(page, "Record a visit");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"Visit to {horse.Name}" })).ToBeVisibleAsync();
        await IsThere(page);

        await To(page, "Trace a picture");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Tracing desk" })).ToBeVisibleAsync();
        await IsThere(page);
        await Tracing.ByKeys(page, label => To(page, label));
        await page.Keep("keyboard-1-traced");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Save the tracing" })).ToBeEnabledAsync();
        await To(page, "Save the tracing");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("[data-tracings=behind-shoulder]")).ToContainTextAsync("cross-section");

        // The ground was level, and the horse stood square.
        for (var question = 0; question < 2; question++)
        {
            await To(page, "Yes");
            await page.Keyboard.PressAsync("Space");
        }

        await To(page, "Weight, kg");
        await page.Keyboard.TypeAsync("587");
        await page.Keep("keyboard-2-entered");
        await To(page, "Save the visit");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"{horse.Name}: visit of" })).ToBeVisibleAsync();
        var visit = await Yard.Recorded(program, horse.HorseId, 587);
        Assert.Contains(visit.GetProperty("entries").EnumerateArray(), e => e.GetProperty("kind").GetString() == "cross-section");
    }

    /// <summary>The page says itself that it stands, with its styles and scripts; whoever listens for the moment may have missed
    /// it.</summary>
    private static Task IsThere(IPage page) => page.WaitForFunctionAsync("() => document.readyState === 'complete'");

    /// <summary>Goes on with the Tab key until this has the focus; on every step something is focused, on the screen, and marked.</summary>
    private static async Task To(IPage page, string name)
    {
        // A page whose styles have not come yet marks nothing.
        await IsThere(page);
        for (var i = 0; i < MostSteps; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            var (label, wrong) = await Focus(page);
            Assert.True(wrong is null, $"on the way to “{name}”: {wrong}");
            if (string.Equals(label, name, StringComparison.Ordinal))
                return;
        }

        Assert.Fail($"“{name}” is not reached with {MostSteps} steps of the Tab key");
    }

    /// <summary>What has the focus by its label or text, and what is wrong with how that is shown.</summary>
    private static async Task<(string Label, string? Wrong)> Focus(IPage page)
    {
        var said = await page.EvaluateAsync<string?[]>(
            """
            () => {
                const at = document.activeElement;
                if (!at || at === document.body) return ['', null];
                const named = at.getAttribute('aria-label') ?? at.labels?.[0]?.textContent ?? at.textContent ?? '';
                const label = named.trim().replace(/\s+/g, ' ');
                const shown = at.matches('input.hidden') ? at.previousElementSibling : at;
                const style = getComputedStyle(shown), box = shown.getBoundingClientRect();
                const marked = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
                const there = box.width > 1 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
                if (!marked) return [label, `“${label}” has the focus and shows nothing of it: ${at.outerHTML.slice(0, 120)}`];
                return [label, there ? null : `“${label}” has the focus beyond the screen`];
            }
            """
        );
        return (said[0] ?? "", said[1]);
    }
}
