using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>Every form of settings, filled in and pressed by its administrator, shows on the next look what it said it saved.</summary>
public sealed class SettingsTests(RunningPractice practice)
{
    [Fact]
    public async Task Units_name_and_zone_are_saved_from_the_practices_page()
    {
        await using var window = await practice.OwnPractice("settings-units", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice");
        await page.GetByText("Millimetres or inches").ClickAsync();
        await page.GetByLabel("Lengths and areas").SelectOptionAsync("inches");
        await page.GetByLabel("Heights of horses").SelectOptionAsync("hands");
        await Saved(page, "form[data-send$='/units']");
        await page.GotoAsync("/practice");
        await Expect(page.Locator("#lengths")).ToHaveValueAsync("inches");
        await Expect(page.Locator("#heights")).ToHaveValueAsync("hands");

        await page.GetByText("Correct the name or the time zone").ClickAsync();
        await page.Locator("#name").FillAsync("Ash Tree Practice");
        await page.Locator("#zone").FillAsync("Europe/Vienna");
        await page.Locator("#reason").FillAsync("Moved.");
        await page.EvaluateAsync("() => { window.before = true; }");
        await Saved(page, "form[data-send='PUT /api/practice']");
        // The page is loaded anew and folded; that it was saved is still said where it was pressed.
        await page.WaitForFunctionAsync("() => window.before === undefined && document.readyState === 'complete'");
        await Expect(page.Locator("form[data-send='PUT /api/practice'] [data-told]")).ToHaveTextAsync("Saved.");
        await Expect(page.Locator("form[data-send='PUT /api/practice'] [data-told]")).ToBeVisibleAsync();
        await page.GotoAsync("/practice");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Ash Tree Practice");
        await Expect(page.GetByText("Days and hours are those of Europe/Vienna")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_threshold_that_was_changed_on_its_page_is_the_one_that_is_watched_by()
    {
        await using var window = await practice.OwnPractice("settings-thresholds", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/thresholds");
        await page.GetByLabel("Width 100 mm down", new() { Exact = false }).First.FillAsync("17,5");
        await page.GetByLabel("Reason of the change").FillAsync("Our gauge is coarse.");
        await Saved(page, "form[data-send]");
        await page.GotoAsync("/practice/thresholds");
        await Expect(page.GetByLabel("Width 100 mm down", new() { Exact = false }).First).ToHaveValueAsync("17.5");
        using var program = practice.Program("settings-thresholds");
        var rules = await program.GetFromJsonAsync<JsonElement>("/api/thresholds");
        var changed = rules
            .GetProperty("rules")
            .GetProperty("thresholds")
            .EnumerateArray()
            .Single(t => t.GetProperty("measure").GetString() == "width@100");
        Assert.Equal(17.5, changed.GetProperty("amount").GetDouble());
    }

    [Fact]
    public async Task An_interval_between_visits_that_was_changed_on_its_page_is_the_one_that_checks_fall_due_by()
    {
        await using var window = await practice.OwnPractice("settings-intervals", Screen.Phone);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/thresholds");
        await page.GetByLabel("In steady work").FillAsync("120");
        await page.GetByLabel("A horse is young below").FillAsync("6,5");
        await page.GetByLabel("Reason of the change").FillAsync("We come three times a year.");
        await Saved(page, "form[data-send]");
        await page.GotoAsync("/practice/thresholds");
        await Expect(page.GetByLabel("In steady work")).ToHaveValueAsync("120");
        await Expect(page.GetByLabel("A horse is young below")).ToHaveValueAsync("6.5");
        using var program = practice.Program("settings-intervals");
        var calendar = (await program.GetFromJsonAsync<JsonElement>("/api/thresholds")).GetProperty("rules").GetProperty("calendar");
        Assert.Equal(120, calendar.GetProperty("steadyDays").GetInt32());
        Assert.Equal(90, calendar.GetProperty("closeDays").GetInt32());
        Assert.Equal(6.5, calendar.GetProperty("youngUnder").GetDouble());
    }

    [Fact]
    public async Task The_protocol_is_saved_from_its_page()
    {
        await using var window = await practice.OwnPractice("settings-protocol", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/protocol");
        await page.GetByText("Change the protocol").ClickAsync();
        await page.Locator("#w-1").FillAsync("a hand behind the shoulder");
        await Saved(page, "form[data-send]");
        await page.GotoAsync("/practice/protocol");
        await Expect(page.GetByRole(AriaRole.Cell, new() { Name = "a hand behind the shoulder" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_gauge_is_entered_changed_and_put_out_of_use_from_its_page()
    {
        await using var window = await practice.OwnPractice("settings-gauges", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/gauges");
        await page.GetByLabel("Key of a new gauge").FillAsync("long-bar");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter a table" }).ClickAsync();
        await page.Locator("#name").FillAsync("Long bar");
        await page.Locator("#reason").FillAsync("Bought second-hand.");
        foreach (var (i, value) in new[] { "30", "35,5", "32" }.Index())
        {
            await page.Locator($"#m-{i}").FillAsync($"{i + 1}");
            await page.Locator($"#v-{i}").FillAsync(value);
        }

        // Said while it is typed, and taken away as soon as it is right.
        await Expect(page.Locator("#v-2-wrong")).ToContainTextAsync("turns round");
        await page.Locator("#v-2").FillAsync("42");
        await Expect(page.Locator("#v-2-wrong")).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save as a new version" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Change its table" }).ClickAsync();
        await Expect(page.Locator("#v-1")).ToHaveValueAsync("35.5");
        await page.Locator("#v-1").FillAsync("36");
        await page.Locator("#reason").FillAsync("Measured again.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save as a new version" }).ClickAsync();
        await Expect(page.GetByText("Version 2.")).ToBeVisibleAsync();
        await page.GetByText("Put it out of use").ClickAsync();
        await page.Locator("#out-long-bar").FillAsync("Worn.");
        await Saved(page, "form[data-send$='/retire']");
        await page.GotoAsync("/practice/gauges");
        await Expect(page.GetByText("no longer used")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task The_rules_of_reminders_are_saved_from_their_page()
    {
        await using var window = await practice.OwnPractice("settings-rules", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/reminders");
        await page.GetByLabel("A second person is told after days without an answer").FillAsync("9");
        await page.Locator("[name='rules.growing.on']").UncheckAsync();
        await page.GetByLabel("Reason of the change").FillAsync("No young horses here.");
        await Saved(page, "form[data-send]");
        await page.GotoAsync("/practice/reminders");
        await Expect(page.GetByLabel("A second person is told after days without an answer")).ToHaveValueAsync("9");
        await Expect(page.Locator("[name='rules.growing.on']")).Not.ToBeCheckedAsync();
    }

    [Theory]
    [InlineData("Change the name or the clock", "#name")]
    [InlineData("Change the units", "#lengths")]
    public async Task A_first_step_leads_into_the_fold_that_it_speaks_of(string step, string field)
    {
        await using var window = await practice.OwnPractice($"settings-folds-{field[1..]}", Screen.Phone);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice");
        await Expect(page.Locator(field)).ToBeHiddenAsync();
        await page.GotoAsync("/practice/start");
        await page.GetByRole(AriaRole.Link, new() { Name = step }).ClickAsync();
        await Expect(page.Locator(field)).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Rules_that_are_tried_say_whether_any_horse_would_stand_otherwise_than_it_stands_now()
    {
        const string own = "settings-tries";
        await using var window = await practice.OwnPractice(own, Screen.Desk);
        using var program = practice.Program(own);
        await Visits.Horse(program, "Bramble");
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/reminders");
        var shown = page.Locator("[data-says]");
        await RunningPractice.Until(async () =>
        {
            await page.GetByRole(AriaRole.Button, new() { Name = "Try on the last year" }).ClickAsync();
            await Expect(shown).ToContainTextAsync("No horse would stand otherwise today");
            return (await shown.InnerTextAsync()).Contains("about 1 horses", StringComparison.Ordinal);
        });
    }

    [Fact]
    public async Task A_letter_is_shown_before_anything_is_pressed_and_it_and_its_picture_speak_of_one_day()
    {
        await using var window = await practice.SignedIn(PracticeRole.Manager, Screen.Phone);
        var page = await window.NewPageAsync();
        // It is shown on a horse that had a reason for it: one has lost muscle on one side, which is found a moment after the practice is.
        await RunningPractice.Until(async () =>
        {
            await page.GotoAsync("/practice/letters/vet-caution/en/look");
            return (await page.InnerTextAsync("body")).Contains("Dear ", StringComparison.Ordinal);
        });
        await page.GotoAsync("/practice/letters/vet-caution/en");
        await page.Locator("iframe[name=look]").ScrollIntoViewIfNeededAsync();
        var letter = page.FrameLocator("iframe[name=look]");
        await Expect(letter.GetByText("Dear ")).ToBeVisibleAsync();
        var picture = await letter.Locator("img[alt*='seen from behind'], img[alt*='from behind']").First.GetAttributeAsync("alt");
        var told = await letter.Locator("body").InnerTextAsync();
        var day = Regex.Match(picture!, "when the saddle was set, [0-9]+ ([A-Z][a-z]+) ([0-9]{4})");
        // A picture that begins on another day says only on which.
        Assert.True(day.Success || Regex.IsMatch(picture!, "the line, as traced, [0-9]+ [A-Z]"), picture);
        if (day.Success)
            Assert.Matches($"the saddle was set in {day.Groups[1].Value[..3]}[a-z]* {day.Groups[2].Value}", told);
    }

    [Fact]
    public async Task The_words_of_a_letter_are_saved_looked_at_and_given_back_from_their_page()
    {
        await using var window = await practice.OwnPractice("settings-letters", Screen.Desk);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice/letters/owner-refit/en");
        var field = page.GetByLabel("Words", new() { Exact = true });
        var words = await field.InputValueAsync();
        await Expect(field).ToContainTextAsync("[the reader's name]");
        await field.FillAsync(words.ReplaceLineEndings("\n") + "\n\nKind regards from all who look after ");
        // Pressed, it is put in where the hand was, and the letter is shown anew as soon as the hand rests.
        await page.GetByRole(AriaRole.Button, new() { Name = "[the horse's name]" }).ClickAsync();
        await Expect(field)
            .ToHaveValueAsync(words.ReplaceLineEndings("\n") + "\n\nKind regards from all who look after [the horse's name]");
        await Expect(page.FrameLocator("iframe[name=look]").Locator("body"))
            .ToContainTextAsync("No horse of this practice has had a reason for such a letter yet");
        Assert.Null(await page.Keep("letter-words"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save these words" }).ClickAsync();
        await Expect(page.GetByText("Your own words, version 1.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("Saved.");
        await Expect(field)
            .ToHaveValueAsync(words.ReplaceLineEndings("\n") + "\n\nKind regards from all who look after [the horse's name]");
        await Saved(page, "form[data-send]:has(button:text('Bring back'))");
        await page.GotoAsync("/practice/letters/owner-refit/en");
        await Expect(page.GetByText("The words that came with the program.")).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task How_the_practice_is_reached_is_saved_from_its_page_with_a_picture(int width)
    {
        var screen = Screen.Of(width);
        await using var window = await practice.OwnPractice($"settings-contact-{width}", screen);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice");
        await page.GetByRole(AriaRole.Link, new() { Name = "Contact", Exact = true }).ClickAsync();
        await page.GetByLabel("Address, in one line").FillAsync("12 Ford Lane, Aston");
        await page.GetByLabel("Telephone").FillAsync("01234 567890");
        await page.GetByLabel("Reply address").FillAsync("office@ford.invalid");
        var picture = Convert.FromBase64String(await page.EvaluateAsync<string>(Drawn));
        await page.GetByLabel("Picture", new() { Exact = true })
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "mark.png",
                    MimeType = "image/png",
                    Buffer = picture,
                }
            );
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("Letters and papers show it from now on.");
        await Expect(page.GetByLabel("Address, in one line")).ToHaveValueAsync("12 Ford Lane, Aston");
        await page.WaitForFunctionAsync("() => document.querySelector('img.preview')?.naturalWidth === 120");
        Assert.Null(await page.Keep("contact"));

        await page.GetByLabel("Show no picture any more").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("Saved.");
        await Expect(page.Locator("img.preview")).ToHaveCountAsync(0);
    }

    /// <summary>A picture as a drawing program saves it.</summary>
    private const string Drawn = """
        () => {
          const canvas = Object.assign(document.createElement('canvas'), { width: 120, height: 60 });
          const pen = canvas.getContext('2d');
          pen.fillStyle = '#14594a';
          pen.fillRect(10, 10, 100, 40);
          return canvas.toDataURL('image/png').split(',')[1];
        }
        """;

    [Fact]
    public async Task A_setting_that_somebody_else_changed_in_the_meantime_is_not_overwritten()
    {
        await using var window = await practice.OwnPractice("settings-both", Screen.Desk);
        var (mine, theirs) = (await window.NewPageAsync(), await window.NewPageAsync());
        foreach (var page in new[] { mine, theirs })
        {
            await page.GotoAsync("/practice/protocol");
            await page.GetByText("Change the protocol").ClickAsync();
        }

        await theirs.Locator("#w-0").FillAsync("theirs");
        await Saved(theirs, "form[data-send]");
        await mine.Locator("#w-0").FillAsync("mine");
        await mine.Locator("form[data-send] button.act").ClickAsync();
        await Expect(mine.Locator("[data-told]")).ToContainTextAsync("Somebody changed this in the meantime.");
        await Expect(mine.Locator("#w-0")).ToHaveValueAsync("mine");
    }

    /// <summary>Presses the form's button as a hand would and demands that the service took it.</summary>
    private static async Task Saved(IPage page, string form)
    {
        await page.EvaluateAsync("() => { globalThis.unsent = true; }");
        var answer = await page.RunAndWaitForResponseAsync(
            () => page.Locator($"{form} button:not([type=button]):not([data-native])").ClickAsync(),
            r => r.Request.Method is "PUT" or "POST"
        );
        Assert.True(answer.Ok, $"{answer.Request.Method} {answer.Url}: {answer.Status} {await answer.TextAsync()}");
        // The page loads itself anew then; whoever goes elsewhere at that moment is called back.
        await page.WaitForFunctionAsync("() => !globalThis.unsent && document.readyState === 'complete'");
    }
}
