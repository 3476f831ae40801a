using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A veterinary surgeon between patients: the one horse that was shared, its condition over time, a comment.</summary>
public sealed partial class VetDayTests(RunningPractice practice)
{
    private const string Words = "Seen on Tuesday: sound, no pain on palpation. Please wait with the saddle until the bloods are back.";

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task A_vet_accepts_reads_the_condition_of_the_shared_horse_and_writes_to_the_practice(int width)
    {
        using var program = practice.Program();
        var horse = await EveryScreen.AHorse(program, h => h.Measure is not null);
        var email = string.Create(CultureInfo.InvariantCulture, $"vet{width}@clinic.invalid");
        await using var office = await practice.SignedIn(PracticeRole.Manager, Screen.Desk);
        var desk = await office.NewPageAsync();
        await desk.GotoAsync($"/horses/{horse}/share");
        await desk.GetByLabel("E-mail").FillAsync(email);
        await desk.GetByLabel("Name, if new here").FillAsync(string.Create(CultureInfo.InvariantCulture, $"Vet of the day {width}"));
        await desk.GetByRole(AriaRole.Button, new() { Name = "Share", Exact = true }).ClickAsync();
        await Expect(desk.GetByText("Given. A letter with a link to accept it is on its way.")).ToBeVisibleAsync();
        var letter = await practice.Post.Wait(email, m => Welcome().IsMatch(m.TextBody ?? ""));

        await using var clinic = await practice.Stranger(Screen.Of(width));
        var page = await clinic.NewPageAsync();
        await page.GotoAsync(EveryScreen.PathOf(Welcome().Match(letter.TextBody!).Value));
        await page.GetByLabel("Choose a password").FillAsync("three quiet geldings");
        // A page that is left before its form was answered has sent nothing.
        await page.RunAndWaitForResponseAsync(
            () => page.GetByRole(AriaRole.Button, new() { Name = "Accept" }).ClickAsync(),
            response => response.Request.Method == "POST"
        );
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("E-mail").FillAsync(email);
        await page.GetByLabel("Password").FillAsync("three quiet geldings");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        // Whoever works in no practice comes to what was shared with them.
        await page.WaitForURLAsync("**/shared-with-me");
        await Expect(page.Locator(".plain-list a")).ToHaveCountAsync(1);
        await page.Locator(".plain-list a").ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Condition" })).ToBeVisibleAsync();
        var trend = page.GetByAltText("Condition over time on one axis, with work, lay-offs, illness and saddle work");
        Assert.True(await trend.EvaluateAsync<bool>("async i => { await i.decode(); return i.naturalWidth > 0; }"));
        Assert.Null(await page.Keep("vet-1-condition"));
        await page.GetByLabel("Your comment for the practice").FillAsync(Words);
        await page.GetByRole(AriaRole.Button, new() { Name = "Send" }).ClickAsync();
        await Expect(page.GetByText("Thank you. It has reached the practice.")).ToBeVisibleAsync();
        // Nothing else of the practice is theirs.
        await page.GotoAsync($"/horses/{horse}");
        Assert.Equal("/not-yours", new Uri(page.Url).AbsolutePath);

        await desk.GotoAsync($"/horses/{horse}/share");
        await Expect(
                desk.Locator("blockquote")
                    .Filter(new() { HasText = string.Create(CultureInfo.InvariantCulture, $"Vet of the day {width}") })
            )
            .ToContainTextAsync(Words);
        await desk.Keep("vet-2-comment");
    }

    [GeneratedRegex(@"http\S+/welcome/\S+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Welcome();
}
