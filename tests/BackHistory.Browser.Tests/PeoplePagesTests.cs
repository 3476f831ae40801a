using BackHistory.History.Practices;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>People and yards are added, found, put right and erased on their pages, and the next look shows it: on the telephone and at
/// the desk, with scripts and without.</summary>
public sealed class PeoplePagesTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390, true)]
    [InlineData(390, false)]
    [InlineData(1440, true)]
    [InlineData(1440, false)]
    public async Task A_person_is_added_found_put_right_and_erased(int width, bool scripts)
    {
        await using var window = await Window("people", width, scripts);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice");
        await page.GetByRole(AriaRole.Link, new() { Name = "People", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Add a person" }).ClickAsync();
        await page.Locator("#name").FillAsync("Jörg Example");
        await page.Locator("#phone").FillAsync("030 5551");
        await page.Locator("#email").FillAsync("nonsense");
        await page.Locator("#role").SelectOptionAsync("Veterinarian");
        await page.Locator("#language").SelectOptionAsync("de");
        await Press(page, "Add");
        await Expect(page.Locator("#email-wrong")).ToBeVisibleAsync();
        await Expect(page.Locator("#phone")).ToHaveValueAsync("030 5551");
        await Expect(page.Locator("#role")).ToHaveValueAsync("Veterinarian");
        await page.Locator("#email").FillAsync("joerg@example.org");
        await Press(page, "Add");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Jörg Example" })).ToBeVisibleAsync();
        await Expect(page.GetByText("veterinarian")).ToBeVisibleAsync();
        await Expect(page.GetByText("German")).ToBeVisibleAsync();
        var person = new Uri(page.Url).AbsolutePath;
        await page.Keep($"pages/person-{scripts}");

        await page.GotoAsync("/people/new");
        await page.Locator("#name").FillAsync("JOERG EXAMPLE");
        await Press(page, "Add");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Is it one of these?" })).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Jörg Example" }).ClickAsync();
        Assert.Equal(person, new Uri(page.Url).AbsolutePath);

        await page.GetByRole(AriaRole.Link, new() { Name = "Put right" }).ClickAsync();
        await page.Locator("#phone").FillAsync("030 5552");
        await page.Locator("#address").FillAsync("Lane 5\nOldtown");
        await Press(page, "Save");
        await Expect(page.GetByText("Saved.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "030 5552" })).ToHaveAttributeAsync("href", "tel:0305552");
        await Expect(page.GetByText("Lane 5")).ToBeVisibleAsync();

        await page.GotoAsync("/people");
        await page.Locator("main input[type=search]").FillAsync("5552");
        await Press(page, "Show");
        await Expect(page.Locator(".plain-list > li")).ToHaveCountAsync(1);
        await page.Keep($"pages/people-{scripts}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Jörg Example" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Erase" }).ClickAsync();
        await page.GetByLabel("Erase them for good").CheckAsync();
        await Press(page, "Erase");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Erased" })).ToBeVisibleAsync();
        await page.Keep($"pages/erased-{scripts}");
        await page.GotoAsync("/people?q=example");
        await Expect(page.GetByText("Nobody has this in a name")).ToBeVisibleAsync();
        await page.GotoAsync(person);
        await Expect(page.GetByText("There is nothing here.")).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(390, true)]
    [InlineData(390, false)]
    [InlineData(1440, true)]
    [InlineData(1440, false)]
    public async Task A_yard_is_added_and_put_right(int width, bool scripts)
    {
        await using var window = await Window("yards", width, scripts);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/practice");
        await page.GetByRole(AriaRole.Link, new() { Name = "Yards", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Add a yard" }).ClickAsync();
        await page.Locator("#name").FillAsync("Grüner Hof");
        await Press(page, "Add");
        await Expect(page.GetByText("None. A horse is moved here from its own page.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Put right" }).ClickAsync();
        await page.Locator("#town").FillAsync("Newtown");
        await Press(page, "Save");
        await Expect(page.GetByText("Newtown")).ToBeVisibleAsync();
        await page.GotoAsync("/yards/new");
        await page.Locator("#name").FillAsync("gruener hof");
        await Press(page, "Add");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Is it one of these?" })).ToBeVisibleAsync();
        await page.GetByLabel("None of them").CheckAsync();
        await Press(page, "Add");
        await page.GotoAsync("/yards");
        await Expect(page.Locator(".plain-list > li")).ToHaveCountAsync(2);
        await page.Keep($"pages/yards-{scripts}");
    }

    [Fact]
    public async Task A_person_whom_somebody_else_changed_in_the_meantime_is_not_overwritten_without_asking()
    {
        await using var window = await Window("people-both", 1440, true);
        var person = await practice.Person(Name("people-both", 1440, true), "Ines Example", PersonRole.Owner);
        var (mine, theirs) = (await window.NewPageAsync(), await window.NewPageAsync());
        await mine.GotoAsync($"/people/{person}/details");
        await theirs.GotoAsync($"/people/{person}/details");
        await theirs.Locator("#phone").FillAsync("1");
        await Press(theirs, "Save");
        await Expect(theirs.GetByText("Saved.")).ToBeVisibleAsync();
        await mine.Locator("#phone").FillAsync("2");
        await Press(mine, "Save");
        await Expect(mine.GetByText("Somebody else changed this in the meantime.")).ToBeVisibleAsync();
        await Expect(mine.Locator("#phone")).ToHaveValueAsync("2");
        await Press(mine, "Save");
        await Expect(mine.GetByRole(AriaRole.Link, new() { Name = "2", Exact = true })).ToBeVisibleAsync();
    }

    private static string Name(string what, int width, bool scripts) => $"{what}-{width}-{(scripts ? "with" : "without")}";

    private Task<IBrowserContext> Window(string what, int width, bool scripts) =>
        practice.OwnPractice(Name(what, width, scripts), Screen.Of(width), scripts: scripts);

    private static Task Press(IPage page, string button) =>
        page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync();
}
