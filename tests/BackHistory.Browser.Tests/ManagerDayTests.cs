using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>From the list of all horses to the one that needs a visit, why, who was told, and the letter itself.</summary>
public sealed partial class ManagerDayTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task The_manager_finds_who_needs_a_visit_writes_to_the_owner_and_books_it(int width)
    {
        await using var window = await practice.SignedIn(PracticeRole.Manager, Screen.Of(width));
        var page = await window.NewPageAsync();
        await page.GotoAsync("/");
        // The invented horses, and the one that the list of all pages arranges.
        await Expect(page.Locator(".caseload tbody tr")).ToHaveCountAsync(41);
        await page.Keep("manager-1-caseload");
        await page.GetByRole(AriaRole.Link, new() { Name = "Changed: check the saddle" }).ClickAsync();
        await Expect(page).ToHaveURLAsync(RefitOnly());
        foreach (var word in await page.Locator(".caseload tbody .state").AllInnerTextsAsync())
            Assert.Equal("Changed: check the saddle", word.Trim());

        // On a telephone the ways lie behind one button.
        if (width == Screen.Phone.Width)
            await page.GetByRole(AriaRole.Button, new() { Name = "Menu" }).ClickAsync();
        await page.GetByRole(AriaRole.Navigation, new() { Name = "Main" })
            .GetByRole(AriaRole.Link, new() { Name = "Reminders" })
            .ClickAsync();
        var card = page.Locator("article.reminder")
            .Filter(new() { Has = page.Locator("button[value=tell-again]") })
            .Filter(new() { HasText = "letter" })
            .First;
        var id = await card.GetAttributeAsync("id");
        var horse = (await card.GetByRole(AriaRole.Heading).InnerTextAsync()).Trim();
        await card.GetByRole(AriaRole.Heading).ClickAsync();
        Assert.NotEmpty((await card.Locator(".says").InnerTextAsync()).Trim());
        await page.Keep("manager-2-reminders");
        var before = practice.Post.Letters().Count;
        await card.GetByRole(AriaRole.Button, new() { Name = "Write again", Exact = true }).ClickAsync();
        // Such a letter left within the hour: it is asked first.
        await page.GetByRole(AriaRole.Button, new() { Name = "Write again all the same" }).ClickAsync();
        await Expect(page.GetByText("A letter will leave shortly.")).ToBeVisibleAsync();

        MimeKit.MimeMessage? letter = null;
        await RunningPractice.Until(
            () =>
                Task.FromResult(
                    (
                        letter = practice
                            .Post.Letters()
                            .Skip(before)
                            .LastOrDefault(m => IsOfOwner(m) && m.TextBody?.Contains(horse, StringComparison.Ordinal) == true)
                    )
                        is not null
                ),
            $"a letter about {horse}"
        );
        await Post.Show(page, letter!);
        Assert.Null(await page.Keep("manager-3-letter"));

        await page.GotoAsync($"/reminders#{id}");
        card = page.Locator($"#{id}");
        await card.GetByRole(AriaRole.Heading).ClickAsync();
        await card.GetByText("Book a visit").ClickAsync();
        var day = TestClock.Running.GetUtcNow().AddDays(9).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        await card.GetByLabel("Day").FillAsync(day);
        await card.GetByRole(AriaRole.Button, new() { Name = "Book", Exact = true }).ClickAsync();
        await Expect(page.GetByText("The visit is booked.")).ToBeVisibleAsync();
        var booked = await practice.Post.Wait(
            letter!.To.Mailboxes.Single().Address,
            m => m.BodyParts.OfType<MimeKit.TextPart>().Any(p => p.ContentType.MimeType == "text/calendar")
        );
        Assert.Contains(horse, booked.TextBody, StringComparison.Ordinal);
        await page.GotoAsync("/reminders?state=booked");
        await Expect(page.Locator($"#{id}")).ToContainTextAsync(horse);
        await page.Keep("manager-4-booked");
    }

    /// <summary>Others hear of the same horse from what other tests do.</summary>
    private static bool IsOfOwner(MimeKit.MimeMessage letter) =>
        letter.To.Mailboxes.Single().Address.EndsWith("@owners.invalid", StringComparison.Ordinal);

    [GeneratedRegex(@"\?state=refit$", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex RefitOnly();
}
