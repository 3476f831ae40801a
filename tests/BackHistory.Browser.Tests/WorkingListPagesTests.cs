using System.Globalization;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Reminders;
using BackHistory.Store.Reminders;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A practice works through its reminders and its plan by hand, and an owner moves their visit: on the telephone without scripts
/// and at the desk with them.</summary>
public sealed class WorkingListPagesTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390, false)]
    [InlineData(1440, true)]
    public async Task Reminders_are_found_booked_asked_about_and_done_many_at_once_and_the_day_is_driven(int width, bool scripts)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"working-list-{width}");
        await using var window = await practice.OwnPractice(name, Screen.Of(width), scripts: scripts);
        var page = await window.NewPageAsync();
        var fitter = await practice.Person(name, "Fenna Fitter", PersonRole.Fitter);
        var first = (await Horses(name))[0];

        await page.GotoAsync("/reminders");
        await Expect(page.Locator("article.reminder")).ToHaveCountAsync(4);
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "0151 0000001" }).First).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/1-list"));
        await page.Locator("main input[type=search]").FillAsync("Walnut");
        await page.Locator("main").GetByRole(AriaRole.Button, new() { Name = "Show" }).First.ClickAsync();
        await Expect(page.Locator("article.reminder")).ToHaveCountAsync(1);
        await Book(page, "Walnut", "10:00", fitter);
        await Expect(page.GetByText("The visit is booked.")).ToBeVisibleAsync();

        // Half an hour later, the same fitter: asked, with what was typed.
        await page.GotoAsync("/reminders?q=Hazel");
        await Book(page, "Hazel", "10:30", fitter);
        await Expect(page.GetByText("Fenna Fitter has a visit to Walnut at 10:00")).ToBeVisibleAsync();
        await Expect(page.Locator("#at")).ToHaveValueAsync("10:30");
        Assert.Null(await page.Keep("working/2-clash"));
        await page.GetByLabel("It is meant so").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Book", Exact = true }).ClickAsync();
        await Expect(page.GetByText("The visit is booked.")).ToBeVisibleAsync();

        await page.GotoAsync("/reminders");
        foreach (var horse in new[] { "Alder", "Rowan" })
            await page.GetByLabel($"Tick {horse}").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put off", Exact = true }).Last.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Put off: 2 reminders" })).ToBeVisibleAsync();
        await page.Locator("#reason").FillAsync("Both are away.");
        Assert.Null(await page.Keep("working/3-many"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Put off", Exact = true }).ClickAsync();
        await Expect(page.GetByText("2: put off.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Back to the reminders" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Booked" }).First.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Friday 4 December 2026" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/4-booked"));
        await page.GetByRole(AriaRole.Link, new() { Name = "The route" }).ClickAsync();
        await Expect(page.Locator(".route > li")).ToHaveCountAsync(2);
        await Expect(page.GetByText("68 km on in a straight line")).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/5-route"));
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "The day before" })).ToBeHiddenAsync();
        await Expect(page.GetByText("0151 0000001").First).ToBeVisibleAsync();
        await page.Keep("working/6-route-printed");
        await OwnerMoves(name, first, width);
    }

    [Theory]
    [InlineData(390, false)]
    [InlineData(1440, true)]
    public async Task A_day_of_the_plan_is_looked_at_and_booked_and_stands_in_the_plan_from_then_on(int width, bool scripts)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"plan-pages-{width}");
        await using var window = await practice.OwnPractice(name, Screen.Of(width), scripts: scripts);
        var page = await window.NewPageAsync();
        await practice.Person(name, "Fenna Fitter", PersonRole.Fitter);
        await Horses(name);

        await page.GotoAsync("/plan");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Visits in the next 4 weeks" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/7-plan"));
        await page.GetByRole(AriaRole.Link, new() { Name = "and book" }).First.ClickAsync();
        await Expect(page.GetByText("Sent to Orla Owner (orla@owners.invalid)").First).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/8-day"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Book the ticked visits" }).ClickAsync();
        await Expect(page.GetByText("4: booked.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Back to the plan" }).ClickAsync();
        await Expect(page.Locator(".kind.booked")).ToHaveCountAsync(4);
        Assert.Null(await page.Keep("working/9-plan-booked"));
    }

    /// <summary>By the link of the letter that told the date, without an account.</summary>
    private async Task OwnerMoves(string name, Guid reminder, int width)
    {
        var queries = practice.Services.GetRequiredService<ReminderQueries>();
        var before = (await queries.Load(name, reminder, CancellationToken.None))!;
        var to = before.Post.First(l => LetterKinds.DefinitionOf(l.Kind).SaysBooking).To;
        var link = practice.Services.GetRequiredService<AnswerLinks>().Move(name, reminder, to);
        await using var stranger = await practice.Stranger(Screen.Of(width), scripts: false);
        var page = await stranger.NewPageAsync();
        await page.GotoAsync(EveryScreen.PathOf(link));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Choose another day for Walnut" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("working/10-another-day"));
        await page.GetByRole(AriaRole.Radio).Last.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Move the visit" }).ClickAsync();
        await Expect(page.GetByText("The visit is moved to")).ToBeVisibleAsync();
        await page.Keep("working/11-moved");
        var after = (await queries.Load(name, reminder, CancellationToken.None))!;
        Assert.NotEqual(before.BookedFor, after.BookedFor);
    }

    private static async Task Book(IPage page, string horse, string at, Guid fitter)
    {
        var card = page.Locator("article.reminder").Filter(new() { HasText = horse });
        await card.GetByRole(AriaRole.Heading, new() { Name = horse }).ClickAsync();
        await card.GetByText("Book a visit").ClickAsync();
        await card.GetByLabel("Day").FillAsync("2026-12-04");
        await card.GetByLabel("Time").FillAsync(at);
        await card.GetByLabel("Who goes").SelectOptionAsync(fitter.ToString());
        if (at == "10:00")
            await page.Keep("working/1-unfolded");
        await card.GetByRole(AriaRole.Button, new() { Name = "Book", Exact = true }).ClickAsync();
    }

    /// <summary>Four horses of one owner in two yards, one degree of longitude apart, whose backs have opened since their saddles were
    /// set.</summary>
    /// <returns>Their reminders.</returns>
    private async Task<IReadOnlyList<Guid>> Horses(string name)
    {
        using var program = practice.Program(name);
        var owner = await Made(
            program,
            "/api/people",
            new
            {
                name = "Orla Owner",
                email = "orla@owners.invalid",
                phone = "0151 0000001",
                role = "owner",
            }
        );
        var near = await Made(program, "/api/yards", Yard("Near Yard", 13));
        var far = await Made(program, "/api/yards", Yard("Far Yard", 14));
        var horses = new List<Guid>();
        foreach (var (horse, yard) in new[] { ("Walnut", near), ("Hazel", far), ("Alder", near), ("Rowan", far) })
            horses.Add(await Opened(program, horse, owner, yard));
        var reminders = new List<Guid>();
        foreach (var horse in horses)
            await RunningPractice.Until(async () =>
            {
                var raised = await practice.Services.GetRequiredService<ReminderQueries>().OfHorse(name, horse, CancellationToken.None);
                if (raised.FirstOrDefault(r => r.State == ReminderState.Open) is { } open)
                    reminders.Add(open.Id);
                return raised.Any(r => r.State == ReminderState.Open);
            });
        return reminders;

        static object Yard(string name, double longitude) =>
            new
            {
                name,
                town = "Oldtown",
                address = "Ferry Lane 1",
                latitude = 52.0,
                longitude,
            };
    }

    private static async Task<Guid> Opened(HttpClient program, string name, Guid ownerId, Guid yardId)
    {
        var horse = await Made(
            program,
            "/api/horses",
            new
            {
                name,
                ownerId,
                yardId,
                foaled = "2015-05-01",
            }
        );
        await Visit(-320, 45);
        await Visit(-260, 45);
        var fitted = await Visit(-120, 45);
        var saddle = await Made(program, "/api/saddles", new { label = $"Saddle of {name}" });
        await EveryScreen.Write(
            program,
            $"/api/saddles/{saddle}/work",
            new
            {
                kind = "set",
                horseId = horse,
                visitId = fitted,
                takenAt = TestClock.Running.GetUtcNow().AddDays(-120),
                fresh = false,
            }
        );
        await Visit(-1, 33);
        return horse;

        async Task<Guid> Visit(int days, double slope)
        {
            var section = new
            {
                kind = "cross-section",
                station = "behind-shoulder",
                unit = "mm",
                yAxis = "up",
                noise = 0.5,
                points = Backs.Section(slope, slope, "behind-shoulder").Points.Select(p => new[] { p.X, p.Y }).ToArray(),
            };
            var visit = new
            {
                takenAt = TestClock.Running.GetUtcNow().AddDays(days),
                method = "flexible-curve",
                entries = new[] { section },
            };
            return (await EveryScreen.Write(program, $"/api/horses/{horse}/visits", visit)).GetProperty("visitId").GetGuid();
        }
    }

    private static async Task<Guid> Made(HttpClient program, string address, object body) =>
        (await EveryScreen.Write(program, address, body)).GetProperty("id").GetGuid();
}
