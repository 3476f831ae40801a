using BackHistory.History.Practices;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>What lies beside the history so that it can be erased: numbers, consents, yards, and how the practice is reached. Pressed on
/// its pages in one walk, and looked for where it is shown.</summary>
public sealed class WhatIsKeptAsideTests(RunningPractice practice)
{
    private const string Chip = "276098100012345";
    private const string OtherChip = "276098100054321";

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task Numbers_consents_yards_and_the_contact_are_shown_where_they_are_looked_for(int width)
    {
        var name = $"kept-aside-{width}";
        await using var window = await practice.OwnPractice(name, Screen.Of(width));
        var owner = await practice.Person(name, "Robin Example", PersonRole.Owner);
        var page = await window.NewPageAsync();

        var yard = await Yard(page);
        var horse = await Numbers(page);
        await Consent(page, owner, horse);
        await Merged(page, horse);
        await Reached(page);
        await page.GotoAsync(yard);
        Assert.Null(await page.Keep("pages/kept-aside-yard"));
    }

    /// <summary>A yard leaves the list and comes back.</summary>
    private static async Task<string> Yard(IPage page)
    {
        await page.GotoAsync("/yards/new");
        await page.Locator("#name").FillAsync("Mill Yard");
        await page.Locator("#town").FillAsync("Newtown");
        await Press(page, "Add");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Mill Yard" })).ToBeVisibleAsync();
        var yard = new Uri(page.Url).AbsolutePath;
        await page.GetByRole(AriaRole.Link, new() { Name = "Remove it" }).ClickAsync();
        await Press(page, "Remove it");
        await Expect(page.GetByText("This yard was removed")).ToBeVisibleAsync();
        await page.GotoAsync("/yards");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Mill Yard" })).ToHaveCountAsync(0);
        await page.GotoAsync($"{yard}/remove");
        await Press(page, "Bring it back");
        await Expect(page.GetByText("Brought back.")).ToBeVisibleAsync();
        await page.GotoAsync("/yards");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Mill Yard" })).ToHaveCountAsync(1);
        return yard;
    }

    /// <summary>A number that cannot be is refused beside its field, and a right one finds the horse.</summary>
    private static async Task<string> Numbers(IPage page)
    {
        var horse = await Registered(page, "Bramble");
        await page.GetByRole(AriaRole.Link, new() { Name = "Its numbers" }).ClickAsync();
        await page.Locator("#microchip").FillAsync("12345");
        await page.Locator("#passport").FillAsync("de 41 0001");
        await Press(page, "Save");
        await Expect(page.Locator("#microchip-wrong")).ToContainTextAsync("15 digits");
        await Expect(page.Locator("#passport")).ToHaveValueAsync("de 41 0001");
        await page.Locator("#microchip").FillAsync("276 0981 0001 2345");
        await Press(page, "Save");
        await Expect(page.GetByText("The horse is found by its numbers too.")).ToBeVisibleAsync();
        await Expect(page.GetByText($"{Chip}, DE410001")).ToBeVisibleAsync();
        await page.GotoAsync($"/find?q={Chip}");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Bramble" })).ToBeVisibleAsync();
        return horse;
    }

    /// <summary>A no is noted with its words and stands beside the owner on the horse's page.</summary>
    private static async Task Consent(IPage page, Guid owner, string horse)
    {
        await page.GotoAsync($"{horse}/owner");
        await page.Locator("main select").First.SelectOptionAsync(owner.ToString());
        await page.Locator("main form .act").First.ClickAsync();
        await Expect(page.GetByText("The owner was changed.")).ToBeVisibleAsync();
        await page.GotoAsync($"/people/{owner}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Note a consent" }).ClickAsync();
        await page.Locator("#kind").SelectOptionAsync("Photographs");
        await page.Locator("#words").FillAsync("On the telephone.");
        await Press(page, "Note it");
        await Expect(page.Locator("#answer-wrong")).ToBeVisibleAsync();
        await Expect(page.Locator("#words")).ToHaveValueAsync("On the telephone.");
        await page.GetByLabel("no, or no longer").CheckAsync();
        await Press(page, "Note it");
        await Expect(page.GetByText("It holds from now on.")).ToBeVisibleAsync();
        await Expect(page.Locator("dl.facts")).ToContainTextAsync("On the telephone.");
        Assert.Null(await page.Keep("pages/kept-aside-consent"));
        await page.GotoAsync(horse);
        await Expect(page.GetByText("No to photographs")).ToBeVisibleAsync();
    }

    /// <summary>What the second registration is told by is shown before the merge and kept after it, until it is erased.</summary>
    private static async Task Merged(IPage page, string horse)
    {
        var second = await Registered(page, "Brambel");
        await page.GotoAsync($"{second}/identity");
        await page.Locator("#microchip").FillAsync(OtherChip);
        await Press(page, "Save");
        await Expect(page.GetByText("The horse is found by its numbers too.")).ToBeVisibleAsync();
        await page.GotoAsync($"{second}/merge?into={horse.Split('/')[^1]}");
        await Expect(page.GetByText($"microchip: {Chip} holds, {OtherChip} does not.")).ToBeVisibleAsync();
        Assert.Null(await page.Keep("pages/kept-aside-merge"));
        await page.Locator("#reason").FillAsync("One horse.");
        await Press(page, "Merge");
        await Expect(page.GetByText($"also {OtherChip}")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Its numbers" }).ClickAsync();
        await page.GetByLabel($"Erase {OtherChip}").CheckAsync();
        Assert.Null(await page.Keep("pages/kept-aside-numbers"));
        await Press(page, "Save");
        await Expect(page.GetByText($"{Chip}, DE410001")).ToBeVisibleAsync();
        await Expect(page.GetByText(OtherChip)).ToHaveCountAsync(0);
    }

    /// <summary>What was saved stands there at the next look.</summary>
    private static async Task Reached(IPage page)
    {
        await page.GotoAsync("/practice");
        await page.GetByRole(AriaRole.Link, new() { Name = "Contact", Exact = true }).ClickAsync();
        await page.GetByLabel("Telephone").FillAsync("01234 567890");
        await page.GetByLabel("Reply address").FillAsync("office@ford.invalid");
        await Press(page, "Save");
        await Expect(page.GetByText("Letters and papers show it from now on.")).ToBeVisibleAsync();
        await page.ReloadAsync();
        await Expect(page.GetByLabel("Telephone")).ToHaveValueAsync("01234 567890");
        await Expect(page.GetByLabel("Reply address")).ToHaveValueAsync("office@ford.invalid");
    }

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
