using System.Net.Http.Json;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>An owner on a phone, from an e-mail, without an account: one sentence, one picture, three answers.</summary>
public sealed partial class OwnerDayTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task The_owner_opens_the_letter_asks_for_a_visit_and_the_practice_sees_it(int width)
    {
        MimeKit.MimeMessage? letter = null;
        await RunningPractice.Until(
            () =>
                Task.FromResult(
                    (
                        letter = practice
                            .Post.Letters()
                            .FirstOrDefault(m =>
                                m.To.Mailboxes.Single().Address.EndsWith("@owners.invalid", StringComparison.Ordinal)
                                && m.TextBody is { } text
                                && Answers().IsMatch(text)
                                && !text.Contains("Ihr", StringComparison.Ordinal)
                            )
                    )
                        is not null
                ),
            "a letter to an owner"
        );
        await using var phone = await practice.Stranger(Screen.Of(width));
        var page = await phone.NewPageAsync();
        await Post.Show(page, letter!);
        await page.Keep("owner-1-letter");
        await page.GotoAsync(EveryScreen.PathOf(Answers().Match(letter!.TextBody!).Value));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Ask for a visit?" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("owner-2-asked"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Yes, please" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Thank you." })).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task The_owners_page_says_one_sentence_shows_one_picture_and_takes_the_answer(int width)
    {
        using var program = practice.Program();
        var horses = (await program.GetFromJsonAsync<CaseloadPage>("/api/caseload?limit=40"))!
            .Items.Where(h => h.OwnerId is not null && h.Reminders.Contains("open"))
            .ToList();
        var horse = horses[width == Screen.Phone.Width ? ^1 : ^2];
        // The practice makes the link on the horse's page and sends it.
        await using var office = await practice.SignedIn(PracticeRole.Manager, Screen.Desk);
        var desk = await office.NewPageAsync();
        await desk.GotoAsync($"/horses/{horse.HorseId}/share");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Make the link" }).ClickAsync();
        var link = await desk.GetByLabel("The link").First.InputValueAsync();

        await using var phone = await practice.Stranger(Screen.Of(width));
        var page = await phone.NewPageAsync();
        await page.GotoAsync(EveryScreen.PathOf(link));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = horse.Name })).ToBeVisibleAsync();
        await Expect(page.Locator("p.lead")).ToHaveCountAsync(1);
        await Expect(page.Locator("figure img")).ToHaveCountAsync(1);
        Assert.True(await page.Locator("figure img").EvaluateAsync<bool>("async i => { await i.decode(); return i.naturalWidth > 0; }"));
        await Expect(page.Locator(".answers button")).ToHaveCountAsync(3);
        Assert.Null(await page.Keep("owner-3-page"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Please book a visit" }).ClickAsync();
        await Expect(page.GetByText("Thank you. Your answer has reached the practice.")).ToBeVisibleAsync();

        await RunningPractice.Until(
            async () =>
            {
                await desk.GotoAsync("/reminders");
                return await desk.Locator("article.reminder")
                        .Filter(new() { HasText = horse.Name })
                        .Filter(new() { HasText = "asks for a visit" })
                        .CountAsync() > 0;
            },
            "the practice sees the answer"
        );
        await page.Keep("owner-4-answered");
    }

    /// <summary>The first of the three answers: a visit, please.</summary>
    [GeneratedRegex(@"http\S+/letter/[\w-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Answers();
}
