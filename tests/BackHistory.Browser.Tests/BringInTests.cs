using System.Collections.Concurrent;
using System.Text;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A manager brings an old table in, from the file to taking it back.</summary>
public sealed class BringInTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task A_table_from_an_old_spreadsheet_is_read_asked_about_tried_entered_and_taken_back_from_its_page(int width)
    {
        var own = $"bring-in-{width}";
        await using var window = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        await Visits.Horse(program, "Bramble");
        var page = await window.NewPageAsync();
        var seen = new List<string?>();
        var tries = new ConcurrentBag<string>();
        page.Request += (_, request) =>
        {
            if (request.Url.Contains("/try?", StringComparison.Ordinal))
                tries.Add(request.Url);
        };
        await RunningPractice.Until(async () => (await page.GotoAsync("/practice/bring-in"))!.Ok);
        seen.Add(await page.Keep("bring-in-1-empty"));
        // Code page 1252: ä is E4, ß is DF.
        await File(page, "old.csv", Encoding.Latin1.GetBytes(Horses));
        await page.GetByLabel("A line is").SelectOptionAsync("horses");
        await Press(page, "Read it");
        await Expect(page.GetByText("It was read as Windows letters")).ToContainTextAsync("“Bärbel”, “Großer Onkel”");
        await Expect(page.GetByText("Passed over above the header: line 1, “Our horses”; line 2, “as of spring”.")).ToBeVisibleAsync();
        await page.GetByLabel("Column Stock is").SelectOptionAsync("height");
        await page.GetByLabel("Column Born is").SelectOptionAsync("foaled");
        seen.Add(await page.Keep("bring-in-2-columns"));
        await Press(page, "Try it");
        await page.GetByLabel("31.12.2015 (day, month, year)").CheckAsync();
        await page.GetByLabel("2015-12-31 (year, month, day)").CheckAsync();
        await page.GetByLabel("In which unit are the lengths that name none?").SelectOptionAsync("cm");
        await page.GetByLabel("Which mark stands before the decimals?").SelectOptionAsync(",");
        await page.GetByLabel("“Brambel” is almost a name that is known.").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        seen.Add(await page.Keep("bring-in-3-asked"));
        await Press(page, "Try it");
        await Expect(page.GetByText("5 lines: 2 would be entered, 1 are here already, 2 are refused.")).ToBeVisibleAsync();
        var worst = page.Locator(".bring-lines > li").Filter(new() { HasText = "Line 8, Distel" });
        await Expect(worst).ToContainTextAsync("Born “31.02.2015”");
        await Expect(worst).ToContainTextAsync("Stock “16”");
        // Once for the questions, and once for the lines: the first page of them came with the counts.
        Assert.Equal(2, tries.Count);
        seen.Add(await page.Keep("bring-in-4-tried"));
        await Press(page, "Enter 2 lines");
        await Expect(page.Locator("[data-told]")).ToContainTextAsync("2 of 5 lines entered, 1 here already, 2 refused");
        await Expect(page.Locator("[data-told]")).ToContainTextAsync("wait until");
        var earlier = page.Locator("[data-earlier] > li").Filter(new() { HasText = "old.csv" });
        await earlier.GetByRole(AriaRole.Button, new() { Name = "What became of its lines" }).ClickAsync();
        await Expect(earlier).ToContainTextAsync("Line 8, Distel");
        seen.Add(await page.Keep("bring-in-5-entered"));

        await earlier.GetByRole(AriaRole.Button, new() { Name = "Take it back…" }).ClickAsync();
        await Expect(earlier).ToContainTextAsync("Withdrawn, with this import as the reason: 2 horses.");
        seen.Add(await page.Keep("bring-in-6-take-back"));
        await earlier.GetByRole(AriaRole.Button, new() { Name = "Leave it" }).ClickAsync();
        await Expect(earlier).ToContainTextAsync("2 of 5 lines entered");
        await earlier.GetByRole(AriaRole.Button, new() { Name = "Take it back…" }).ClickAsync();
        await earlier.GetByRole(AriaRole.Button, new() { Name = "Take it back", Exact = true }).ClickAsync();
        await Expect(earlier).ToContainTextAsync("taken back, 2 lines taken back, 0 stay");
        seen.Add(await page.Keep("bring-in-7-taken-back"));
        Assert.All(seen, Assert.Null);
    }

    [Fact]
    public async Task Whoever_loses_the_connection_while_a_table_is_entered_is_told_what_became_of_it_and_goes_on()
    {
        const string own = "bring-in-lost";
        const string one = "**/api/imports/*-*-*-*-*";
        await using var window = await practice.OwnPractice(own, Screen.Desk);
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync("/practice/bring-in"))!.Ok);
        await File(page, "people.csv", "Name\nBen Ford\n"u8.ToArray());
        await Press(page, "Read it");
        await Press(page, "Try it");
        await Expect(page.GetByText("1 lines: 1 would be entered, 0 are here already, 0 are refused.")).ToBeVisibleAsync();
        var told = page.Locator("[data-told]");

        await window.SetOfflineAsync(true);
        await Press(page, "Enter 1 line");
        await Expect(told).ToContainTextAsync("It may have begun");
        await window.SetOfflineAsync(false);
        await Expect(told).ToContainTextAsync("people.csv: read, not entered");

        await page.RouteAsync(one, route => route.AbortAsync());
        await Press(page, "Enter 1 line");
        await Expect(told).ToHaveTextAsync("There is no connection; it goes on by itself.");
        await page.UnrouteAsync(one);
        await Expect(told).ToContainTextAsync("people.csv: entered, 1 of 1 lines entered");
    }

    [Fact]
    public async Task A_table_of_gauges_is_tried_whole_and_offers_nothing_to_press_where_nothing_of_it_would_enter()
    {
        await using var window = await practice.OwnPractice("bring-in-gauges", Screen.Desk);
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync("/practice/bring-in"))!.Ok);
        await page.GetByLabel("A line is").SelectOptionAsync("gauges");
        await Tried("Gauge,Measures,Mark,Value\nLong bar,angle,1,30\nLong bar,angle,2,thirty\n");
        await Expect(page.GetByText("2 lines: 0 would be entered, 0 are here already, 2 are refused.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Nothing of it would be entered.")).ToBeVisibleAsync();
        await Expect(page.Locator("[data-do=enter]")).ToBeHiddenAsync();

        await Tried("Gauge,Measures,Mark,Value\nLong bar,angle,1,30\nLong bar,angle,2,35\n");
        await Expect(page.Locator(".bring-lines > li").First)
            .ToContainTextAsync("read as Gauge: Long bar; Measures: the slope of one side; Mark: 1; Value: 30°");
        await Press(page, "Enter 2 lines");
        await Expect(page.Locator("[data-told]")).ToContainTextAsync("2 of 2 lines entered");
        await page.GotoAsync("/practice/gauges");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Long bar" })).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Cell, new() { Name = "35", Exact = true })).ToBeVisibleAsync();

        async Task Tried(string table)
        {
            await File(page, "gauges.csv", Encoding.UTF8.GetBytes(table));
            await Press(page, "Read it");
            await Press(page, "Try it");
        }
    }

    private const string Horses =
        "Our horses;;;\nas of spring;;;\n\nName;Born;Stock;Colour\nBärbel;4.3.2015;162,5;bay\nGroßer Onkel;2014-05-01;158;\n"
        + "Brambel;;;\nDistel;31.02.2015;16;grey\n;1.1.2016;160;\n";

    private static Task File(IPage page, string name, byte[] bytes) =>
        page.GetByLabel("File")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = name,
                    MimeType = "text/csv",
                    Buffer = bytes,
                }
            );

    private static Task Press(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();
}
