using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>Everything of a visit is put right from its page, and put back the same way; the page then shows what it said it
/// saved.</summary>
public sealed class PutRightTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task Entries_and_details_of_a_visit_are_put_right_withdrawn_and_put_back(int width)
    {
        var own = string.Create(CultureInfo.InvariantCulture, $"right-entries-{width}");
        await using var window = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "Right Away");
        var visit = await Visits.Enter(
            program,
            horse,
            new
            {
                kind = "weight",
                value = 512,
                unit = "kg",
            },
            Reading("left", 41)
        );
        var page = await window.NewPageAsync();
        await Visits.Open(page, horse, visit);
        Assert.Null(await page.Keep("put-right-1-visit"));

        await Press(page, "Put right Slope read by hand, left side");
        await page.GetByLabel("Reads, °").FillAsync("410");
        await page.GetByLabel("Why it is put right").FillAsync("Typed wrongly.");
        await Button(page, "Save");
        await Expect(page.Locator("#value-wrong")).ToHaveTextAsync("Reading: 0 to 90°");
        await Expect(page.GetByLabel("Reads, °")).ToHaveValueAsync("410");
        Assert.Null(await page.Keep("put-right-2-refused"));
        await page.GetByLabel("Reads, °").FillAsync("41,5");
        await Button(page, "Save");
        await Says(page, "The entry was put right.");
        await Expect(Standing(page, "Slope read by hand, left side")).ToContainTextAsync("41.5°");
        await Expect(Struck(page)).ToContainTextAsync("Typed wrongly.");
        Assert.Null(await page.Keep("put-right-3-put-right"));

        await Press(page, "Put back Slope read by hand, left side");
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("It was right.");
        await Button(page, "Put it back");
        await Says(page, "The entry stands again.");
        await Expect(Standing(page, "Slope read by hand, left side")).ToContainTextAsync("41");
        await Expect(Standing(page, "Slope read by hand, left side")).Not.ToContainTextAsync("41.5");

        await Press(page, "Put right Weight");
        await Press(page, "It was never so");
        Assert.Null(await page.Keep("put-right-4-withdraw-entry"));
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("Another scale.");
        await Button(page, "Withdraw the entry");
        await Says(page, "The entry was withdrawn.");
        await Expect(Standing(page, "Weight")).ToHaveCountAsync(0);
        await Press(page, "Put back Weight");
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("The scale was right.");
        await Button(page, "Put it back");
        await Expect(Standing(page, "Weight")).ToContainTextAsync("512 kg");

        await Press(page, "Put day and conditions right");
        Assert.Null(await page.Keep("put-right-5-details"));
        await page.GetByLabel("Traced with").SelectOptionAsync("contour-gauge");
        await page.Locator("#level").GetByLabel("No").CheckAsync();
        await page.Locator("#day").FillAsync("2026-11-20");
        await page.GetByLabel("Why it is put right").FillAsync("The slope behind the barn.");
        await Button(page, "Save");
        await Says(page, "Day, method and conditions were put right.");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("20 Nov 2026");
        await Expect(page.GetByText("a contour gauge · ground not level · stood square")).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task A_visit_is_withdrawn_put_back_merged_and_given_to_the_horse_that_was_measured(int width)
    {
        var own = string.Create(CultureInfo.InvariantCulture, $"right-visits-{width}");
        await using var window = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "Wrong Stable");
        var other = await Visits.Horse(program, "Right Stable");
        var visit = await Visits.Enter(
            program,
            horse,
            new
            {
                kind = "weight",
                value = 533,
                unit = "kg",
            }
        );
        var twice = await Visits.Enter(program, horse, new { kind = "condition", score = 5.5 });
        var page = await window.NewPageAsync();
        await Visits.Open(page, horse, visit);

        await Press(page, "Withdraw the visit");
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("A slip.");
        Assert.Null(await page.Keep("put-right-6-withdraw"));
        await Button(page, "Withdraw the visit");
        await Says(page, "The visit was withdrawn");
        await Expect(page.GetByText("A slip.")).ToBeVisibleAsync();
        Assert.Null(await page.Keep("put-right-7-withdrawn"));
        await Press(page, "Put it back");
        await Button(page, "Put it back");
        await Says(page, "The visit stands again.");
        await Expect(Standing(page, "Weight")).ToContainTextAsync("533 kg");

        await Visits.Open(page, horse, twice);
        await Press(page, "It was entered twice");
        Assert.Null(await page.Keep("put-right-8-twice"));
        await page.GetByRole(AriaRole.Link, new() { Name = "Choose" }).First.ClickAsync();
        await page.GetByLabel("How do you know").FillAsync("We both wrote.");
        Assert.Null(await page.Keep("put-right-9-merge"));
        await Button(page, "Merge");
        await Says(page, "Entered twice:");
        await Expect(Standing(page, "Weight")).ToContainTextAsync("533 kg");
        await Expect(Standing(page, "ondition")).ToContainTextAsync("5.5");

        await Press(page, "It was another horse");
        await page.GetByPlaceholder("Part of its name").FillAsync("right st");
        await Button(page, "Find");
        Assert.Null(await page.Keep("put-right-10-find"));
        await Press(page, "Choose Right Stable");
        await page.GetByLabel("How do you know").FillAsync("The grey was in the other box.");
        Assert.Null(await page.Keep("put-right-11-give"));
        await Button(page, "Give it to Right Stable");
        await Says(page, "The visit stands at this horse now");
        Assert.Contains($"/horses/{other}/visits/", page.Url, StringComparison.Ordinal);
        await Expect(Standing(page, "Weight")).ToContainTextAsync("533 kg");
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task What_an_apprentice_entered_is_marked_until_it_is_confirmed_or_sent_back(int width)
    {
        var own = string.Create(CultureInfo.InvariantCulture, $"right-apprentice-{width}");
        await using var window = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "First Steps");
        var person = await practice.Person(own, "An Apprentice", PersonRole.Fitter);
        var kept = await practice.SignIn($"apprentice@{own}.members.invalid", new Membership(own, person, PracticeRole.Apprentice));
        await using var learning = await practice.Stranger(Screen.Of(width), kept);
        var (first, second) = (await Visits.ByApprentice(learning, horse, 501), await Visits.ByApprentice(learning, horse, 502));

        var page = await window.NewPageAsync();
        await Yard.Until(page, $"/horses/{horse}", page.GetByText("Waits to be confirmed:"));
        Assert.Null(await page.Keep("put-right-12-waits"));
        await page.GotoAsync("/");
        await Press(page, "2 visits wait to be confirmed");
        Assert.Null(await page.Keep("put-right-13-waiting"));
        await page.Locator($"a[href='/horses/{horse}/visits/{first}/confirm']").ClickAsync();
        Assert.Null(await page.Keep("put-right-14-confirm"));
        await Button(page, "Confirm");
        await Says(page, "The visit was confirmed");
        await Expect(page.GetByText("Waits to be confirmed")).ToHaveCountAsync(0);

        await Visits.Open(page, horse, second);
        await Press(page, "Send it back");
        await page.GetByLabel("What is to be done again").FillAsync("Weigh it without the rug.");
        Assert.Null(await page.Keep("put-right-15-send-back"));
        await Button(page, "Send it back");
        await Says(page, "The visit was sent back.");
        await page.GotoAsync("/visits/waiting");
        await Expect(page.GetByText("None waits.")).ToBeVisibleAsync();

        var theirs = await learning.NewPageAsync();
        await Yard.Until(theirs, "/", theirs.GetByText("Sent back to you:"));
        await theirs.GetByRole(AriaRole.Link, new() { Name = "First Steps, visit of" }).ClickAsync();
        await Expect(theirs).ToHaveURLAsync(new Regex($"/horses/{horse}/visits/{second}$", RegexOptions.None, Timeout.InfiniteTimeSpan));
        await Expect(theirs.GetByText("Weigh it without the rug.")).ToBeVisibleAsync();
        await Press(theirs, "Put it back");
        await Button(theirs, "Put it back");
        await Expect(theirs.GetByText("Waits to be confirmed.")).ToBeVisibleAsync();
        await Expect(theirs.GetByRole(AriaRole.Link, new() { Name = "Confirm", Exact = true })).ToHaveCountAsync(0);
    }

    private static object Reading(string side, double value) =>
        new
        {
            kind = "reading",
            measure = $"read-slope-{side}",
            station = Protocols.UsualStation,
            value,
        };

    private static ILocator Standing(IPage page, string what) =>
        page.Locator("ul.entries").First.GetByRole(AriaRole.Listitem).Filter(new() { HasText = what });

    private static ILocator Struck(IPage page) => page.Locator("ul.entries").Nth(1);

    private static Task Press(IPage page, string link) => page.GetByRole(AriaRole.Link, new() { Name = link }).First.ClickAsync();

    private static Task Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Main).GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();

    private static Task Says(IPage page, string said) => Expect(page.Locator("p.done")).ToContainTextAsync(said);
}
