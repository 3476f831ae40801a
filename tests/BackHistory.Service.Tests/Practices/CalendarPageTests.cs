using System.Net;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Practices;

/// <summary>The page on which a person makes and ends addresses for calendar programs.</summary>
public sealed partial class CalendarPageTests(RunningService service)
{
    [Fact]
    public async Task An_address_is_made_on_the_page_shown_once_read_by_a_calendar_and_ended()
    {
        using var browser = await Works("Reads A Calendar", RunningService.Mine);

        var made = await browser.Press("/me/calendars", ("Form.Name", "Kitchen wall"), ("Form.Whose", "own"));

        Assert.Equal("/me/calendars", made.Then());
        var page = await browser.Page("/me/calendars");
        var address = Shown().Match(page).Groups["address"].Value;
        Assert.Contains("/calendar/", address, StringComparison.Ordinal);
        Assert.Contains("Kitchen wall", page, StringComparison.Ordinal);
        Assert.Contains("your visits; made by you", page, StringComparison.Ordinal);
        Assert.Contains("not read yet", page, StringComparison.Ordinal);
        Assert.DoesNotMatch(Shown(), await browser.Page("/me/calendars"));

        using var program = service.Anonymous();
        var path = new Uri(address).AbsolutePath;
        Assert.Contains("BEGIN:VCALENDAR", await program.GetStringAsync(path), StringComparison.Ordinal);
        var read = await browser.Page("/me/calendars");
        Assert.Contains("last read about", read, StringComparison.Ordinal);
        var end = Ends("Kitchen wall").Match(read).Groups["address"].Value;
        var ends = await browser.Page(end);
        foreach (var press in new[] { 1, 2 })
            Assert.True((await browser.Sent(end, ends)).Then() == "/me/calendars?saved=calendar-ended", $"press {press}");
        Assert.Contains("Nothing is found at that address", await browser.Page("/me/calendars?saved=calendar-ended"));
        Assert.DoesNotContain("Kitchen wall", await browser.Page("/me/calendars"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await program.GetAsync(path)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get(end)).StatusCode);
    }

    [Fact]
    public async Task A_calendar_without_a_name_or_with_a_made_up_choice_is_asked_for_beside_the_field_and_what_was_typed_stays()
    {
        using var browser = await Works("Types In A Hurry", RunningService.Mine);

        var nameless = await (await browser.Press("/me/calendars", ("Form.Name", " "), ("Form.Whose", "all"))).Words();
        var chosen = await (await browser.Press("/me/calendars", ("Form.Name", "Hall"), ("Form.Whose", "theirs"))).Words();

        Assert.Contains("id=\"name-wrong\"", nameless, StringComparison.Ordinal);
        Assert.Matches("value=\"all\"[^>]* selected", nameless);
        Assert.Contains("id=\"whose-wrong\"", chosen, StringComparison.Ordinal);
        Assert.Contains("value=\"Hall\"", chosen, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_address_of_another_practices_calendar_is_ended_by_nobody_here_and_looks_like_a_missing_one()
    {
        using var theirs = service.Client(RunningService.Theirs);
        var made = await (await theirs.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Of others" })).Json();
        using var browser = await Works("Ends What Is Not Theirs", RunningService.Mine);
        using var mine = service.Client();
        var own = await (await mine.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Of this practice" })).Json();
        var form = await browser.Page($"/me/calendars/{own.GetProperty("id").GetGuid()}/end");

        var said = new List<(HttpStatusCode, string)>();
        foreach (var id in new[] { made.GetProperty("id").GetGuid(), Guid.NewGuid() })
        {
            var answer = await browser.Sent($"/me/calendars/{id}/end", form);
            said.Add((answer.StatusCode, Unlike().Replace(await answer.Words(), "")));
        }

        Assert.Equal(said[1], said[0]);
        using var program = service.Anonymous();
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync(new Uri(made.GetProperty("url").GetString()!).AbsolutePath)).StatusCode);
    }

    private async Task<Browser> Works(string name, string practice) =>
        await service.SignedIn(await service.Member(name, (practice, PracticeRole.Apprentice)));

    private static Regex Ends(string name) =>
        new(
            $"<strong>{name}</strong>.*?href=\"(?<address>/me/calendars/[^\"]+/end)\"",
            RegexOptions.Singleline,
            Regex.InfiniteMatchTimeout
        );

    [GeneratedRegex("<code class=\"secret\">(?<address>[^<]+)</code>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Shown();

    /// <summary>What differs between any two answers: tokens and nonces.</summary>
    [GeneratedRegex(
        "[0-9a-f]{8}-[0-9a-f-]{27}|value=\"[^\"]{40,}\"|nonce=\"[^\"]*\"|<!--.*?-->",
        RegexOptions.Singleline,
        Timeout.Infinite
    )]
    private static partial Regex Unlike();
}
