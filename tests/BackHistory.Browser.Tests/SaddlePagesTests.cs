using System.Net.Http.Json;
using BackHistory.History.Practices;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A saddle's life is entered, put right and ended on its pages, and the next look shows it: on the telephone and at the desk,
/// with scripts and without.</summary>
public sealed class SaddlePagesTests(RunningPractice practice)
{
    public static TheoryData<int, bool> Ways =>
        new()
        {
            { 390, true },
            { 390, false },
            { 1440, true },
            { 1440, false },
        };

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_saddle_is_registered_and_set_in_marks_that_its_gauge_has(int width, bool scripts)
    {
        var (window, page, _) = await Arranged("saddle-set", width, scripts, "Adria");
        await using var closed = window;
        await page.GotoAsync("/saddles");
        await page.GetByRole(AriaRole.Link, new() { Name = "Register a saddle" }).ClickAsync();
        await page.Locator("#label").FillAsync("Brown 17");
        await page.Locator("#tree").FillAsync("beech, 31 cm");
        await page.Locator("#gauge").SelectOptionAsync("bench");
        await Press(page, "Register");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Saddle Brown 17" })).ToBeVisibleAsync();
        await Expect(page.GetByText("Registered. Set it to a horse")).ToBeVisibleAsync();
        await Expect(page.GetByText("On no horse.")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Set it to a horse" }).ClickAsync();
        await page.Locator("#to-left").FillAsync("banana");
        await page.Locator("#to-right").FillAsync("12");
        await page.Locator("#note").FillAsync("Rode it in for ten minutes.");
        await Press(page, "Record");
        await Expect(page.Locator("#horse-name-wrong")).ToContainTextAsync("Say which horse.");
        const string Marks = "is no mark of Bench gauge. It has 0, 1, 2, 3, 4, 5, 6, 7 and 8.";
        await Expect(page.Locator("#to-left-wrong")).ToContainTextAsync($"“banana” {Marks}");
        await Expect(page.Locator("#to-right-wrong")).ToContainTextAsync($"“12” {Marks}");
        await Expect(page.Locator("#to-left")).ToHaveValueAsync("banana");
        await Expect(page.Locator("#note")).ToHaveValueAsync("Rode it in for ten minutes.");
        Assert.Null(await page.Keep($"pages/saddle-wrong-{scripts}"));

        await page.Locator("#horse-name").FillAsync("adria");
        await page.Locator("#to-left").FillAsync("4");
        await page.Locator("#to-right").FillAsync("4 +0,3");
        await Press(page, "Record");
        await Expect(page.GetByText("Recorded: it is set.")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("On Adria");
        await Expect(page.Locator(".line").First).ToContainTextAsync("tree, left: 4");
        await Expect(page.Locator(".line").First).ToContainTextAsync("tree, right: 4 +0,3");
        await Expect(page.Locator(".line").First).ToContainTextAsync("Note: Rode it in for ten minutes.");
        Assert.Null(await page.Keep($"pages/saddle-set-{scripts}"));
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_saddle_goes_to_a_second_horse_only_when_somebody_says_so_and_moves_and_comes_off(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-moves", width, scripts, "Adria", "Bramble", "Clover");
        await using var closed = window;
        await Set(page, saddle, "Adria");
        await page.GotoAsync($"{saddle}/work/new");
        await page.Locator("#horse-name").FillAsync("Bramble");
        await page.Locator("#to-left").FillAsync("6");
        await Press(page, "Record");
        await Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("The saddle is in use on another horse.");
        await page.Keep($"pages/saddle-both-{scripts}");
        await page.GetByLabel("Both horses use it").CheckAsync();
        await Press(page, "Record");
        await Expect(Where(page)).ToContainTextAsync("On Adria");
        await Expect(Where(page)).ToContainTextAsync("On Bramble");
        // Where the tree stood for the one horse is not said of the other.
        await Expect(page.Locator(".line").First.Locator("li").Filter(new() { HasText = "Bramble" })).ToContainTextAsync("tree, left: 6");

        await page.GetByRole(AriaRole.Link, new() { Name = "Move from Bramble" }).ClickAsync();
        await Expect(page.Locator("#from option:checked")).ToHaveTextAsync("Bramble");
        await page.Locator("#horse-name").FillAsync("Nobody of that name");
        await Press(page, "Move the saddle");
        await Expect(page.Locator("#horse-name-wrong")).ToContainTextAsync("No horse here is called “Nobody of that name”.");
        await page.Locator("#horse-name").FillAsync("Clover");
        await page.Locator("#reason").FillAsync("Lent to the daughter.");
        await page.Keep($"pages/saddle-move-{scripts}");
        await Press(page, "Move the saddle");
        await Expect(page.GetByText("It went to the other horse.")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("On Clover not set to it yet");
        await Expect(Where(page)).Not.ToContainTextAsync("Bramble");

        await page.GetByRole(AriaRole.Link, new() { Name = "Take off Adria" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Too narrow by now.");
        await Press(page, "Take it off");
        await Expect(page.GetByText("It is off the horse")).ToBeVisibleAsync();
        await Expect(Where(page)).Not.ToContainTextAsync("On Adria");
        await page.GetByText("Everything that happened to it").ClickAsync();
        await Expect(page.Locator(".line").Last).ToContainTextAsync("Too narrow by now.");
        await Expect(page.Locator(".line").Last).ToContainTextAsync("Lent to the daughter.");
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Work_is_entered_afterwards_put_right_with_a_reason_and_withdrawn(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-work", width, scripts, "Adria");
        await using var closed = window;
        await Set(page, saddle, "Adria", "2026-09-01");
        await page.GetByRole(AriaRole.Link, new() { Name = "Record work" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Flocked", Exact = true }).ClickAsync();
        await Press(page, "Record");
        await Expect(page.Locator("#material-wrong")).ToContainTextAsync("Say with what");
        await Expect(page.GetByText("Say whether all of it was done anew or some was added.")).ToBeVisibleAsync();
        await page.Locator("#material").FillAsync("wool");
        await page.GetByLabel("Some was added, in these places").CheckAsync();
        await page.GetByLabel("front left").CheckAsync();
        await page.GetByLabel("back right").CheckAsync();
        await page.Locator("#day").FillAsync("2026-10-05");
        await page.Locator("#note").FillAsync("Entered from the diary.");
        await page.Keep($"pages/saddle-flock-{scripts}");
        await Press(page, "Record");
        await Expect(page.GetByText("Recorded: it is flocked.")).ToBeVisibleAsync();
        var first = page.Locator(".line > li").First;
        await Expect(first).ToContainTextAsync("5 Oct 2026");
        await Expect(first).ToContainTextAsync("Flocking added, wool");
        await Expect(first).ToContainTextAsync("panel-front, left");
        await Expect(first).ToContainTextAsync("panel-back, right");
        await Expect(first).ToContainTextAsync("Entered from the diary.");

        await page.GetByRole(AriaRole.Link, new() { Name = "Put right the work of 5 Oct 2026" }).ClickAsync();
        await Expect(page.Locator("#material")).ToHaveValueAsync("wool");
        await Expect(page.GetByLabel("front left")).ToBeCheckedAsync();
        await page.Locator("#material").FillAsync("synthetic fibre");
        await page.GetByLabel("All old flocking came out").CheckAsync();
        await page.Locator("#reason").FillAsync("Asked the workshop.");
        await page.Keep($"pages/saddle-correct-{scripts}");
        await Press(page, "Put right");
        await Expect(page.GetByText("The work was put right.")).ToBeVisibleAsync();
        var instead = page.Locator(".line > li").Filter(new() { HasText = "Flocked anew, with synthetic fibre" });
        await Expect(instead).ToContainTextAsync("5 Oct 2026");
        await page.GetByRole(AriaRole.Link, new() { Name = "Withdraw the work of 5 Oct 2026" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Another saddle.");
        await Press(page, "Withdraw the work");
        await Expect(page.GetByText("The work was withdrawn.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Put right the work of 5 Oct 2026" })).ToHaveCountAsync(0);
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Put right the work of 1 Sep 2026" })).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_saddle_goes_out_on_trial_with_a_day_on_which_it_is_due_and_comes_back(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-trial", width, scripts, "Adria", "Bramble");
        await using var closed = window;
        await page.GotoAsync(saddle);
        await page.GetByRole(AriaRole.Link, new() { Name = "Lend it on trial" }).ClickAsync();
        await page.Locator("#horse-name").FillAsync("Adria");
        await page.Locator("#day").FillAsync("2026-11-10");
        await page.Locator("#until").FillAsync("2026-11-01");
        await Press(page, "Lend it");
        await Expect(page.Locator("#until-wrong")).ToContainTextAsync("A trial cannot end before it begins.");
        await page.Locator("#until").FillAsync("2026-11-20");
        await Press(page, "Lend it");
        await Expect(page.GetByText("It is out on trial.")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("On trial with Adria");
        await page.GotoAsync("/saddles");
        var due = page.GetByRole(AriaRole.Region, new() { Name = "Out on trial" });
        await Expect(due).ToContainTextAsync("was due back on 20 Nov 2026, 5 days ago");
        Assert.Null(await page.Keep($"pages/saddles-trial-{scripts}"));

        await page.GotoAsync($"{saddle}/trials/new");
        await page.Locator("#horse-name").FillAsync("Bramble");
        await page.Locator("#until").FillAsync("2026-12-20");
        await Press(page, "Lend it");
        await Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("out on trial with another horse");
        await page.GotoAsync("/saddles");
        await due.GetByRole(AriaRole.Link, new() { Name = "End the trial" }).ClickAsync();
        await Press(page, "End the trial");
        await Expect(page.GetByText("Say whether it is back or kept.")).ToBeVisibleAsync();
        await page.GetByLabel("back", new() { Exact = true }).CheckAsync();
        await page.Locator("#reason").FillAsync("Slides to the left.");
        await page.Keep($"pages/saddle-trial-end-{scripts}");
        await Press(page, "End the trial");
        await Expect(page.GetByText("The trial ended: it is back.")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("On no horse.");
        await page.GotoAsync("/saddles");
        await Expect(due).ToHaveCountAsync(0);
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_pad_with_its_shims_lies_under_it_until_it_is_removed(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-pad", width, scripts, "Adria");
        await using var closed = window;
        await Set(page, saddle, "Adria");
        await page.GetByRole(AriaRole.Link, new() { Name = "Add a pad" }).ClickAsync();
        await page.Locator("#pad").FillAsync("sheepskin half pad");
        await page.Locator("#thickness-0").FillAsync("6,5");
        await page.Locator("#thickness-1").FillAsync("thick");
        await page.Locator("#thickness-2").FillAsync("400");
        await Press(page, "Note the pad");
        await Expect(page.Locator("#thickness-1-wrong")).ToContainTextAsync("“thick” is no number.");
        await Expect(page.Locator("#thickness-2-wrong")).ToContainTextAsync("a thickness up to 80 mm");
        await Expect(page.Locator("#thickness-0")).ToHaveValueAsync("6,5");
        Assert.Null(await page.Keep($"pages/saddle-pad-{scripts}"));
        await page.Locator("#thickness-1").FillAsync("");
        await page.Locator("#thickness-2").FillAsync("4");
        await Press(page, "Note the pad");
        await Expect(page.GetByText("The pad was noted.")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("sheepskin half pad, with shims front left 6.5 mm, front 4 mm");
        await page.GetByRole(AriaRole.Link, new() { Name = "Remove sheepskin half pad" }).ClickAsync();
        await page.Locator("#reason").FillAsync("The back filled out.");
        await Press(page, "Remove the pad");
        await Expect(page.GetByText("The pad is no longer under it.")).ToBeVisibleAsync();
        await Expect(Where(page)).Not.ToContainTextAsync("sheepskin");
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Owner_details_parts_and_files_are_changed_on_pages_of_their_own(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-facts", width, scripts, "Adria");
        await using var closed = window;
        await practice.Person(Practice("saddle-facts", width, scripts), "Paul Second", PersonRole.Owner);
        await page.GotoAsync(saddle);
        await page.GetByRole(AriaRole.Link, new() { Name = "Another owner" }).ClickAsync();
        await page.Locator("#owner").SelectOptionAsync(new SelectOptionValue { Label = "Paul Second" });
        await Press(page, "Change the owner");
        await Expect(Where(page)).ToContainTextAsync("Its owner: Paul Second");

        await page.GetByRole(AriaRole.Link, new() { Name = "Put its details right" }).ClickAsync();
        await page.Locator("#tree").FillAsync("beech, 32 cm");
        await page.Locator("#reason").FillAsync("Looked under the flap.");
        await page.Keep($"pages/saddle-details-{scripts}");
        await Press(page, "Put right");
        await Expect(page.Locator("p.soft").First).ToContainTextAsync("beech, 32 cm");

        await page.GetByRole(AriaRole.Link, new() { Name = "Its parts" }).ClickAsync();
        await page.Locator("#part-0").FillAsync("points");
        await page.Locator("#side-0").SelectOptionAsync("left");
        await Press(page, "Save the parts");
        await Expect(page.Locator("#what-0-wrong")).ToContainTextAsync("Say what it is");
        await page.Locator("#what-0").FillAsync("bend cold");
        await page.Keep($"pages/saddle-parts-{scripts}");
        await Press(page, "Save the parts");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Its parts (1)" })).ToBeVisibleAsync();
        await page.GotoAsync($"{saddle}/work/new");
        await Expect(page.GetByLabel("points, left")).ToBeVisibleAsync();

        await page.GotoAsync($"{saddle}/files");
        await page.Locator("#file").SetInputFilesAsync(File("note.exe", "application/octet-stream", [1, 2, 3, 0, 255]));
        await Press(page, "Add it");
        await Expect(page.Locator("#file-wrong"))
            .ToContainTextAsync("Photographs (JPEG, PNG, WebP), PDF documents and plain text are taken.");
        await page.Locator("#file").SetInputFilesAsync(File("dot.png", "image/png", Convert.FromBase64String(Dot)));
        await Press(page, "Add it");
        await Expect(page.GetByText("The file was added.")).ToBeVisibleAsync();
        await Expect(page.GetByAltText("Photograph 1")).ToBeVisibleAsync();
        await page.Keep($"pages/saddle-files-{scripts}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Remove number 1" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Another saddle.");
        await Press(page, "Remove it");
        await Expect(page.GetByText("The file is shown no longer.")).ToBeVisibleAsync();
        await Expect(page.GetByText("None yet.")).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Saddles_are_found_and_the_life_of_one_ends_with_its_sale_or_as_a_mistake(int width, bool scripts)
    {
        var (window, page, saddle) = await Arranged("saddle-ends", width, scripts, "Adria");
        await using var closed = window;
        var name = Practice("saddle-ends", width, scripts);
        await practice.Person(name, "Bea Buyer", PersonRole.Owner);
        await Set(page, saddle, "Adria");
        using var program = practice.Program(name);
        await EveryScreen.Write(program, "/api/saddles", new { label = "Wrong One", tree = "spring" });
        foreach (var (text, found) in new[] { ("spri", "Wrong One"), ("adri", "Tried 1"), ("tried", "Tried 1") })
        {
            await page.GotoAsync("/saddles");
            await page.Locator("#sq").FillAsync(text);
            await Press(page, "Show");
            await Expect(page.Locator(".plain-list .step")).ToHaveTextAsync([found]);
        }

        await page.GotoAsync("/saddles?where=OnNone");
        await Expect(page.Locator(".plain-list .step")).ToHaveTextAsync(["Wrong One"]);
        Assert.Null(await page.Keep($"pages/saddles-{scripts}"));

        await page.GotoAsync($"{saddle}/withdraw");
        await Expect(page.GetByText("Work stands on it.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Record the sale" }).ClickAsync();
        await Expect(page.GetByText("It comes off Adria")).ToBeVisibleAsync();
        await page.Locator("#person").SelectOptionAsync(new SelectOptionValue { Label = "Bea Buyer" });
        await page.Locator("#note").FillAsync("With the girth.");
        await page.Keep($"pages/saddle-sell-{scripts}");
        await Press(page, "Record the sale");
        await Expect(page.GetByText("Sold: it is on no horse any more")).ToBeVisibleAsync();
        await Expect(Where(page)).ToContainTextAsync("Its owner: Bea Buyer");
        await page.GetByText("Everything that happened to it").ClickAsync();
        await Expect(page.Locator(".line").Last).ToContainTextAsync("Sold: With the girth.");

        await page.GotoAsync("/saddles?q=buyer");
        await Expect(page.Locator(".plain-list .step")).ToHaveTextAsync(["Tried 1"]);
        await page.GotoAsync("/saddles?q=wrong");
        await page.GetByRole(AriaRole.Link, new() { Name = "Wrong One" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Registered by mistake" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Never here.");
        await Press(page, "Withdraw the registration");
        await Expect(page.GetByText("nothing can be recorded of it any more")).ToBeVisibleAsync();
        await page.GotoAsync("/saddles");
        await Expect(page.Locator(".plain-list .step")).ToHaveTextAsync(["Tried 1"]);
    }

    [Fact]
    public async Task A_form_that_is_sent_twice_by_an_impatient_hand_is_answered_twice_alike()
    {
        var (window, page, saddle) = await Arranged("saddle-twice", 390, true, "Adria");
        await using var closed = window;
        await Set(page, saddle, "Adria");
        await page.GotoAsync($"{saddle}/take-off");
        await page.Locator("#reason").FillAsync("Too narrow.");
        Assert.Equal(["taken-off", "taken-off"], await SentTwice(page));
        using var program = practice.Program(Practice("saddle-twice", 390, true));
        var other = (await EveryScreen.Write(program, "/api/saddles", new { label = "Wrong One" })).GetProperty("id").GetGuid();
        await page.GotoAsync($"/saddles/{other}/withdraw");
        await page.Locator("#reason").FillAsync("Never here.");
        Assert.Equal(["withdrawn", "withdrawn"], await SentTwice(page));
    }

    /// <summary>Sends the page's form and once more the same.</summary>
    /// <returns>What the pages to which it led say was done.</returns>
    private static Task<string[]> SentTwice(IPage page) =>
        page.EvaluateAsync<string[]>(
            """
            async () => {
              const form = document.querySelector('form[method=post].sheet');
              const sent = [];
              for (let n = 0; n < 2; n++) {
                const answer = await fetch(location.href, { method: 'POST', body: new URLSearchParams(new FormData(form)) });
                sent.push(answer.ok ? new URL(answer.url).searchParams.get('saved') ?? 'nothing' : String(answer.status));
              }
              return sent;
            }
            """
        );

    /// <summary>A picture of one point.</summary>
    private const string Dot = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";

    private static ILocator Where(IPage page) => page.GetByRole(AriaRole.Region, new() { Name = "Where it is" });

    private static FilePayload File(string name, string type, byte[] bytes) =>
        new()
        {
            Name = name,
            MimeType = type,
            Buffer = bytes,
        };

    private static string Practice(string what, int width, bool scripts) => $"{what}-{width}-{(scripts ? "with" : "without")}";

    /// <summary>A practice with a gauge, these horses and the saddle <c>Tried 1</c>.</summary>
    private async Task<(IBrowserContext Window, IPage Page, string Saddle)> Arranged(
        string what,
        int width,
        bool scripts,
        params string[] horses
    )
    {
        var name = Practice(what, width, scripts);
        var window = await practice.OwnPractice(name, Screen.Of(width), scripts: scripts);
        using var program = practice.Program(name);
        var gauge = new
        {
            name = "Bench gauge",
            measure = "slope",
            unit = "deg",
            marks = Enumerable
                .Range(0, 9)
                .Select(i => new
                {
                    name = $"{i}",
                    position = (double)i,
                    value = 30 + 2.5 * i,
                }),
            reason = "As measured.",
        };
        using var request = new HttpRequestMessage(HttpMethod.Put, "/api/practice/gauges/bench") { Content = JsonContent.Create(gauge) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", "gauge");
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var answer = await program.SendAsync(request);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        foreach (var horse in horses)
        {
            await EveryScreen.Write(program, "/api/horses", new { name = horse });
            await RunningPractice.Until(async () =>
                (await program.GetFromJsonAsync<System.Text.Json.JsonElement[]>($"/api/find?q={horse}"))!.Length > 0
            );
        }

        var saddle = await EveryScreen.Write(program, "/api/saddles", new { label = "Tried 1", gauge = "bench" });
        return (window, await window.NewPageAsync(), $"/saddles/{saddle.GetProperty("id").GetGuid()}");
    }

    private static async Task Set(IPage page, string saddle, string horse, string? day = null)
    {
        await page.GotoAsync($"{saddle}/work/new");
        await page.Locator("#horse-name").FillAsync(horse);
        if (day is not null)
            await page.Locator("#day").FillAsync(day);
        await page.Locator("#to-left").FillAsync("4");
        await Press(page, "Record");
        await Expect(page.GetByText("Recorded: it is set.")).ToBeVisibleAsync();
    }

    private static Task Press(IPage page, string button) =>
        page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync();
}
