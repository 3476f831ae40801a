using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>An owner cancels a visit by the link of the letter that told its date, and the practice sees it where it looks.</summary>
public sealed partial class OwnerCancelsTests(RunningService service)
{
    private const string Practice = "owner-cancels";

    [Fact]
    public async Task The_page_asks_first_and_what_was_cancelled_stands_on_the_list_the_horses_history_and_the_caseload()
    {
        await service.Found(Practice);
        using var client = service.Client(Practice);
        var fitter = await service.Person(Practice, "Fitter Of Bramble", PersonRole.Fitter);
        var reminder = await service.Told(client, "Bramble Cancelled", Practice);
        var at = Given.InDays(1);
        await client.Write(
            HttpMethod.Post,
            $"/api/reminders/{reminder.Id}/book",
            new
            {
                @for = at,
                fitterId = fitter,
                tell = true,
            }
        );
        var letter = await Given.Wait(async () =>
            (await service.Load(reminder, Practice)).Post.FirstOrDefault(l =>
                l is { Kind: LetterKind.BookingMade, State: LetterState.Sent }
            )
        );
        var content = (await service.Queries().Content(Practice, letter.LetterId, CancellationToken.None))!;
        Assert.Equal("Bramble Cancelled: the date of our visit", content.Subject);
        var link = new Uri(Links().Match(content.Text).Value).AbsolutePath;
        using var owner = service.Anonymous();

        // Too near to be moved, it can be cancelled: better told late than not.
        Assert.Contains($"{link}?cancel=1", await owner.GetStringAsync(link), StringComparison.Ordinal);
        var asks = await owner.GetStringAsync($"{link}?cancel=1");
        Assert.Contains("Cancel the visit to Bramble Cancelled?", asks, StringComparison.Ordinal);
        Assert.Contains("Fitter Of Bramble comes.", asks, StringComparison.Ordinal);
        Assert.Equal(ReminderState.Booked, (await service.Load(reminder, Practice)).State);

        Assert.Equal("?cancelled=1", await Pressed(owner, link, "Away until <Easter>."));
        Assert.Equal("?cancelled=1", await Pressed(owner, link, "Away until <Easter>."));
        var done = await owner.GetStringAsync($"{link}?cancelled=1");
        Assert.Contains("The visit is cancelled.", done, StringComparison.Ordinal);
        Assert.Contains("The practice and whoever would have come are told", done, StringComparison.Ordinal);
        var open = await service.Load(reminder, Practice);
        Assert.Equal((ReminderState.Open, Answer.Cancelled), (open.State, open.Answer!.Value));
        Assert.Single(open.Post, l => l.Kind == LetterKind.VisitCancelled && l.To == fitter);
        Assert.Single(open.Post, l => l.Kind == LetterKind.BookingCancelled);

        using var browser = await service.SignedIn(await service.Member("Sees Cancelled", (Practice, PracticeRole.Fitter)));
        Assert.Contains(
            "cancelled the visit",
            await browser.Until("/reminders?state=open", "cancelled the visit"),
            StringComparison.Ordinal
        );
        Assert.Contains("Away until &lt;Easter&gt;.", await browser.Page("/reminders?state=open"), StringComparison.Ordinal);
        await browser.Until($"/horses/{reminder.HorseId}", "Answered: the visit is cancelled.");
        await browser.Until("/?q=Bramble", "cancelled the visit");
    }

    [Fact]
    public async Task A_letter_is_one_line_of_the_horses_history_with_who_and_what_and_where_it_stands()
    {
        await service.Found("one-line");
        using var client = service.Client("one-line");
        var reminder = await service.Told(client, "One Line", "one-line");
        using var browser = await service.SignedIn(await service.Member("Reads Lines", ("one-line", PracticeRole.Fitter)));

        var page = WebUtility.HtmlDecode(await browser.Until($"/horses/{reminder.HorseId}", "to Owner of One Line:"));

        Assert.Single(Lines().Matches(page), l => l.Value.Contains("to Owner of One Line: laid down as a file", StringComparison.Ordinal));
        Assert.DoesNotContain("A letter is to be written.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("The letter was sent.", page, StringComparison.Ordinal);
    }

    private static async Task<string> Pressed(HttpClient owner, string link, string words)
    {
        var answer = await owner.PostAsync($"{link}/cancel", new FormUrlEncodedContent([new("words", words)]));
        return answer.Headers.Location!.ToString()[link.Length..];
    }

    [GeneratedRegex(@"http\S+/letter/[\w-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Links();

    [GeneratedRegex("<div class=\"words\">[^<]*</div>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Lines();
}
