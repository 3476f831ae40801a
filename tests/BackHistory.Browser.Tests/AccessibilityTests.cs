using BackHistory.Store.Accounts;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>Every screen, in light and dark, on a phone and on a desk: axe-core finds nothing, and nothing lies beyond the right
/// edge, and no value was encoded twice. On a phone no chart is scaled down and no table hides its numbers.</summary>
public sealed class AccessibilityTests(RunningPractice practice)
{
    /// <summary>Whoever adds a page adds an address at which it is looked at, and weighed.</summary>
    [Fact]
    public void Every_page_of_the_service_is_looked_at() => Assert.Empty(practice.Screens.Forgotten);

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task No_screen_breaks_a_rule_of_accessibility(int width)
    {
        var screen = Screen.Of(width);
        await using var inside = await practice.SignedIn(PracticeRole.Administrator, screen);
        await using var outside = await practice.Stranger(screen);
        var (member, stranger) = (await inside.NewPageAsync(), await outside.NewPageAsync());
        var wrong = new List<string>();
        var charts = 0;
        Assert.True(practice.Screens.All.Count > 40, $"only {practice.Screens.All.Count} screens were looked at");
        foreach (var (number, look) in practice.Screens.All.Index())
        {
            var page = look.SignedIn ? member : stranger;
            await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
            await page.GotoAsync(look.Path);
            if (await page.Keep($"screens/{number:00}-{look.Name}") is { } wide)
                wrong.Add($"{look}: {wide}");
            wrong.AddRange((await EncodedTwice(page)).Select(a => $"{look}: {a}"));
            await Opened(page);
            if (screen.Touch)
            {
                var (lost, measured) = await SmallScreen.Look(page);
                wrong.AddRange(lost.Select(l => $"{look}: {l}"));
                charts += measured;
            }

            await Axe.Bring(page);
            wrong.AddRange((await Axe.Violations(page)).Select(v => $"{look}: {v}"));
            await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
            wrong.AddRange((await Axe.Violations(page, coloursOnly: true)).Select(v => $"{look}, dark: {v}"));
        }

        Assert.True(!screen.Touch || charts > 10, $"only {charts} charts were measured");
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    /// <summary>An entity that is encoded a second time stays in the value: <c>"&amp;amp;after="</c> is no parameter of an
    /// address.</summary>
    private static Task<string[]> EncodedTwice(IPage page) =>
        page.EvaluateAsync<string[]>(
            "() => [...document.querySelectorAll('*')].flatMap(e => [...e.attributes]).filter(a => "
                + "/&(amp|quot|lt|gt|#\\w+);/.test(a.value)).map(a => `${a.name}=${a.value}`)"
        );

    /// <summary>What is folded away is looked at too, and what lies off the screen is laid out: places inside it are not measured
    /// before.</summary>
    private static async Task Opened(IPage page) =>
        await page.EvaluateAsync(
            """
            () => {
              for (const d of document.querySelectorAll('details')) { d.removeAttribute('name'); d.open = true; }
              for (const li of document.querySelectorAll('.line > li')) li.style.contentVisibility = 'visible';
            }
            """
        );
}
