using System.Globalization;
using System.Net.Http.Headers;
using BackHistory.History.Practices;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>Whatever is known of a horse is registered, put right and taken back on its pages, and the next look shows it: on the
/// telephone and at the desk, with scripts and without.</summary>
public sealed class HorsePagesTests(RunningPractice practice)
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
    public async Task A_horse_is_registered_with_its_owner_and_its_yard_in_one_go(int width, bool scripts)
    {
        await using var window = await Window("horse-registered", width, scripts);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Link, new() { Name = "Register a horse" }).ClickAsync();
        await page.Locator("#name").FillAsync("Läufer");
        await page.Locator("#born").FillAsync("soon");
        await page.Locator("#height").FillAsync("15.7");
        await page.Locator("[name='Form.HeightIn']").SelectOptionAsync("hands");
        await Press(page, "Register");
        await Expect(page.Locator("#born-wrong")).ToContainTextAsync("“soon” is no day");
        await Expect(page.Locator("#height-wrong")).ToContainTextAsync("15.2 are fifteen hands and two inches");
        await Expect(page.Locator("#name")).ToHaveValueAsync("Läufer");

        await page.Locator("#born").FillAsync("");
        await page.Locator("#age").FillAsync("7");
        await page.Locator("#height").FillAsync("15.2");
        await page.GetByText("or somebody new").ClickAsync();
        await page.Locator("#owner-name").FillAsync("Olga Example");
        await page.Locator("#owner-phone").FillAsync("+49 30 5550");
        await page.Locator("#owner-email").FillAsync("nonsense");
        await page.Locator("#yard-name").FillAsync("Birch Yard");
        await page.Locator("#yard-town").FillAsync("Oldtown");
        await Press(page, "Register");
        await Expect(page.Locator("#owner-email-wrong")).ToBeVisibleAsync();
        await Expect(page.Locator("#yard-name")).ToHaveValueAsync("Birch Yard");
        await page.Locator("#owner-email").FillAsync("olga@example.org");
        await Press(page, "Register");

        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Läufer", Exact = true })).ToBeVisibleAsync();
        await Expect(page.GetByText("Registered. Record its first visit")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "+49 30 5550" })).ToHaveAttributeAsync("href", "tel:+49305550");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Birch Yard, Oldtown" })).ToBeVisibleAsync();
        await Expect(page.GetByText("born 2019")).ToBeVisibleAsync();
        await page.Keep($"pages/horse-registered-{scripts}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Olga Example" }).First.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Läufer" })).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "olga@example.org" })).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Details_owner_and_yard_are_put_right_on_pages_of_their_own(int width, bool scripts)
    {
        await using var window = await Window("horse-changed", width, scripts);
        await practice.Person(Name("horse-changed", width, scripts), "Paul Second", PersonRole.Owner);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Bramble");
        await page.GetByRole(AriaRole.Link, new() { Name = "Put its details right" }).ClickAsync();
        await page.Locator("#breed").FillAsync("Trakehner");
        await page.Locator("#reason").FillAsync("The passport was shown.");
        await Press(page, "Save");
        await Expect(page.GetByText("The details were put right.")).ToBeVisibleAsync();
        await Expect(page.Locator("p.soft").First).ToContainTextAsync("Trakehner");

        await page.GetByRole(AriaRole.Link, new() { Name = "Another owner" }).ClickAsync();
        await page.Locator("#owner").SelectOptionAsync(new SelectOptionValue { Label = "Paul Second" });
        await Press(page, "Change the owner");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Paul Second" })).ToBeVisibleAsync();

        await page.GotoAsync("/yards/new");
        await page.Locator("#name").FillAsync("Oak Yard");
        await Press(page, "Add");
        await page.GotoAsync(horse);
        await page.GetByRole(AriaRole.Link, new() { Name = "Another yard" }).ClickAsync();
        await page.Locator("#yard").SelectOptionAsync(new SelectOptionValue { Label = "Oak Yard" });
        await page.Locator("#from").FillAsync("2026-11-20");
        await Press(page, "Change the yard");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Oak Yard" })).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Oak Yard" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Bramble" })).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_horse_registered_twice_is_asked_about_and_merged_once_it_was_shown_what_happens(int width, bool scripts)
    {
        await using var window = await Window("horse-merged", width, scripts);
        var page = await window.NewPageAsync();
        var first = await Registered(page, "Müller’s Boy");
        await page.GotoAsync("/horses/new");
        await page.Locator("#name").FillAsync("MUELLERS BOY");
        await Press(page, "Register");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Is it one of these?" })).ToBeVisibleAsync();
        await page.GetByLabel("None of them").CheckAsync();
        await Press(page, "Register");
        await Expect(page.GetByText("Registered. Record its first visit")).ToBeVisibleAsync();
        var second = new Uri(page.Url).AbsolutePath;
        await page.GotoAsync($"{second}/care");
        await page.Locator("#words").FillAsync("Box rest.");
        await Press(page, "Note it");

        await page.GotoAsync($"{second}/details");
        await page.GetByRole(AriaRole.Link, new() { Name = "It was registered twice" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Choose Müller’s Boy" }).ClickAsync();
        await Expect(page.GetByText("1 note of its care")).ToBeVisibleAsync();
        await page.Keep($"pages/merge-{scripts}");
        await page.Locator("#reason").FillAsync("The same chip.");
        await Press(page, "Merge");
        await Expect(page.GetByText("Merged: everything that stood")).ToBeVisibleAsync();
        Assert.Equal(first, new Uri(page.Url).AbsolutePath);
        await Expect(page.GetByText("Box rest.")).ToBeVisibleAsync();
        await page.GotoAsync("/");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "MUELLERS BOY" })).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_registration_by_mistake_is_withdrawn_from_its_page()
    {
        await using var window = await Window("horse-withdrawn", 390, true);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Nobody");
        await page.GotoAsync($"{horse}/details");
        await page.GetByRole(AriaRole.Link, new() { Name = "It was registered by mistake" }).ClickAsync();
        await page.Locator("#reason").FillAsync("It stands elsewhere.");
        await Press(page, "Withdraw the registration");
        await Expect(page.GetByText("This registration was withdrawn")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Record a visit" })).ToHaveCountAsync(0);
        await page.GotoAsync("/");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Nobody", Exact = true })).ToHaveCountAsync(0);

        await page.GotoAsync(horse);
        await page.GetByRole(AriaRole.Link, new() { Name = "Put it back" }).ClickAsync();
        await page.Locator("#reason").FillAsync("It was the other one.");
        await Press(page, "Put it back");
        await Expect(page.GetByText("The registration stands again.")).ToBeVisibleAsync();
        await Expect(page.GetByText("The registration was put back: It was the other one.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Record a visit" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("pages/put-back"));
        await page.GotoAsync("/");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Nobody", Exact = true })).ToHaveCountAsync(1);
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_lay_off_is_noted_ended_put_right_and_withdrawn(int width, bool scripts)
    {
        await using var window = await Window("horse-care", width, scripts);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Clover");
        await page.GetByRole(AriaRole.Link, new() { Name = "Note or end something" }).ClickAsync();
        await page.Locator("#from").FillAsync("2026-11-01");
        await page.Locator("#until").FillAsync("2026-10-01");
        await page.Locator("#words").FillAsync("Box rest after a kick.");
        await Press(page, "Note it");
        await Expect(page.Locator("#until-wrong")).ToContainTextAsync("It cannot end before it begins.");
        await Expect(page.Locator("#words")).ToHaveValueAsync("Box rest after a kick.");
        await page.Locator("#until").FillAsync("");
        await Press(page, "Note it");
        await Expect(page.GetByText("Noted. It stands in the history too.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Box rest after a kick.")).ToBeVisibleAsync();
        await page.Keep($"pages/care-{scripts}");
        await page.GotoAsync(horse);
        await Expect(page.GetByText("Lay-off since 1 Nov 2026")).ToBeVisibleAsync();

        await page.GotoAsync($"{horse}/care");
        await page.GetByRole(AriaRole.Link, new() { Name = "It is over" }).ClickAsync();
        await page.Locator("#until").FillAsync("2026-11-12");
        await Press(page, "It is over");
        await Expect(page.GetByText("from 1 Nov 2026 until 12 Nov 2026", new() { Exact = true })).ToBeVisibleAsync();

        await page.GotoAsync(horse);
        await page.Locator(".line").GetByRole(AriaRole.Link, new() { Name = "Put right" }).First.ClickAsync();
        await Expect(page.Locator("#words")).ToHaveValueAsync("Box rest after a kick.");
        await page.Locator("#kind").SelectOptionAsync("Illness");
        await page.Locator("#reason").FillAsync("The vet called it so.");
        await Press(page, "Save");
        await Expect(page.GetByText("The note was put right.")).ToBeVisibleAsync();
        await Expect(page.Locator(".plain-list")).ToContainTextAsync("Illness");
        await Expect(page.Locator(".plain-list")).ToContainTextAsync("Box rest after a kick.");

        await page.GetByRole(AriaRole.Link, new() { Name = "Withdraw" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Another horse.");
        await Press(page, "Withdraw");
        await Expect(page.GetByText("The note was withdrawn.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Nothing is noted yet.")).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Work_is_noted_from_a_day_on_and_taken_back(int width, bool scripts)
    {
        await using var window = await Window("horse-work", width, scripts);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Daisy");
        await page.GetByRole(AriaRole.Link, new() { Name = "Its work" }).ClickAsync();
        await page.Locator("#load").SelectOptionAsync("Moderate");
        await page.Locator("#discipline").FillAsync("eventing");
        await page.Locator("#hours").FillAsync("many");
        await Press(page, "Note it");
        await Expect(page.Locator("#hours-wrong")).ToContainTextAsync("“many” is no number.");
        await page.Locator("#hours").FillAsync("200");
        await Press(page, "Note it");
        await Expect(page.Locator("#hours-wrong")).ToContainTextAsync("A week has 168 hours.");
        await page.Locator("#hours").FillAsync("5,5");
        await page.Locator("#from").FillAsync("2026-09-01");
        await Press(page, "Note it");
        await Expect(page.GetByText("moderate, eventing, 5.5 hours a week")).ToBeVisibleAsync();
        await page.Keep($"pages/work-{scripts}");
        await page.GotoAsync(horse);
        await Expect(page.GetByText("moderate, eventing, 5.5 hours a week").First).ToBeVisibleAsync();
        await page.GotoAsync($"{horse}/work");
        await page.GetByRole(AriaRole.Link, new() { Name = "Withdraw" }).ClickAsync();
        await page.Locator("#reason").FillAsync("It was its sister.");
        await Press(page, "Withdraw");
        await Expect(page.GetByText("The span of work was withdrawn.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Nothing is noted yet.")).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task A_rider_takes_a_part_in_its_care_and_ends_it(int width, bool scripts)
    {
        await using var window = await Window("horse-roles", width, scripts);
        await practice.Person(Name("horse-roles", width, scripts), "Rita Rides", PersonRole.Rider);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Ember");
        await page.GetByRole(AriaRole.Link, new() { Name = "Riders, vet, farrier" }).ClickAsync();
        await page.Locator("#personId").SelectOptionAsync(new SelectOptionValue { Label = "Rita Rides, rider" });
        await Press(page, "Note it");
        await Expect(page.GetByText("Noted who cares for it.")).ToBeVisibleAsync();
        await page.Keep($"pages/roles-{scripts}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Rita Rides", Exact = true }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Ember" })).ToBeVisibleAsync();
        await page.GotoAsync($"{horse}/care-roles");
        await page.GetByRole(AriaRole.Link, new() { Name = "End the part of Rita Rides, rider" }).ClickAsync();
        await Press(page, "End it");
        await Expect(page.GetByText("Their part in its care has ended.")).ToBeVisibleAsync();
        await page.GotoAsync(horse);
        await Expect(page.GetByText("nobody noted")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_photograph_of_the_wrong_horse_is_removed_and_the_removal_says_why()
    {
        await using var window = await Window("horse-files", 390, false);
        var page = await window.NewPageAsync();
        var horse = await Registered(page, "Fern");
        using var program = practice.Program(Name("horse-files", 390, false));
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/api{horse}/files?kind=photograph")
        {
            Content = new ByteArrayContent(Convert.FromBase64String(Dot)),
        };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        request.Headers.Add("Idempotency-Key", "a dot");
        request.Headers.IfMatch.Add(EntityTagHeaderValue.Any);
        var answer = await program.SendAsync(request);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        await RunningPractice.Until(async () =>
        {
            await page.GotoAsync($"{horse}/files");
            return await page.GetByRole(AriaRole.Link, new() { Name = "Remove" }).CountAsync() == 1;
        });
        await page.GetByRole(AriaRole.Link, new() { Name = "Remove" }).ClickAsync();
        await page.Locator("#reason").FillAsync("Another horse.");
        await Press(page, "Remove it");
        await Expect(page.GetByText("The file is shown no longer.")).ToBeVisibleAsync();
        await Expect(page.GetByText("None yet.")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task What_somebody_else_changed_in_the_meantime_is_not_overwritten_without_asking()
    {
        await using var window = await Window("horse-both", 1440, false);
        var (mine, theirs) = (await window.NewPageAsync(), await window.NewPageAsync());
        var horse = await Registered(theirs, "Gale");
        await mine.GotoAsync($"{horse}/details");
        await theirs.GotoAsync($"{horse}/details");
        await theirs.Locator("#colour").FillAsync("grey");
        await theirs.Locator("#reason").FillAsync("Seen.");
        await Press(theirs, "Save");
        await mine.Locator("#colour").FillAsync("bay");
        await mine.Locator("#reason").FillAsync("Seen too.");
        await Press(mine, "Save");
        await Expect(mine.GetByText("Somebody else changed this in the meantime.")).ToBeVisibleAsync();
        await Expect(mine.Locator("#colour")).ToHaveValueAsync("bay");
        await theirs.ReloadAsync();
        await Expect(theirs.Locator("p.soft").First).ToContainTextAsync("grey");
        await Press(mine, "Save");
        await Expect(mine.Locator("p.soft").First).ToContainTextAsync("bay");
    }

    [Fact]
    public async Task What_was_known_on_a_day_leaves_out_what_was_entered_since()
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        await using var window = await practice.SignedIn(BackHistory.Store.Accounts.PracticeRole.ReadOnly, Screen.Phone);
        var page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse}");
        var last = (await page.Locator(".line > li.visit").First.GetAttributeAsync("data-visit-on"))!;
        var before = DateOnly.Parse(last, CultureInfo.InvariantCulture).AddDays(-1);
        await page.GetByRole(AriaRole.Link, new() { Name = "What was known on a day" }).ClickAsync();
        await page.Locator("#at").FillAsync(before.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await Press(page, "Show");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "By the end of" })).ToBeVisibleAsync();
        var days = await page.Locator(".line time")
            .EvaluateAllAsync<string[]>("all => all.map(t => t.getAttribute('datetime').slice(0, 10))");
        Assert.NotEmpty(days);
        Assert.All(days, d => Assert.True(string.CompareOrdinal(d, last) < 0, $"{d} was not known before {last}"));
        await page.Keep("pages/known");
        await page.Locator("#at").FillAsync("1999-01-01");
        await Press(page, "Show");
        await Expect(page.GetByText("Nothing was known of")).ToBeVisibleAsync();
    }

    /// <summary>A picture of one point.</summary>
    private const string Dot = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";

    private static string Name(string what, int width, bool scripts) => $"{what}-{width}-{(scripts ? "with" : "without")}";

    private Task<IBrowserContext> Window(string what, int width, bool scripts) =>
        practice.OwnPractice(Name(what, width, scripts), Screen.Of(width), scripts: scripts);

    /// <summary>Registers a horse by hand.</summary>
    /// <returns>Where its page stands.</returns>
    private static async Task<string> Registered(IPage page, string name)
    {
        await page.GotoAsync("/horses/new");
        await page.Locator("#name").FillAsync(name);
        await Press(page, "Register");
        await Expect(page.GetByText("Registered. Record its first visit")).ToBeVisibleAsync();
        return new Uri(page.Url).AbsolutePath;
    }

    private static Task Press(IPage page, string button) =>
        page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync();
}
