using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>Reminders as they are worked through: found, done many at once, and asked about before something clashes or goes
/// twice.</summary>
public sealed partial class WorkingListTests(RunningService service)
{
    [Fact]
    public async Task A_second_visit_of_one_fitter_at_about_the_same_time_is_asked_about_and_booked_only_when_it_is_meant()
    {
        const string practice = "clashing";
        await service.Found(practice);
        using var client = service.Client(practice);
        var fitter = await service.Person(practice, "Busy Fitter", PersonRole.Fitter);
        var first = await service.Told(client, "First Of The Day", practice);
        var second = await service.Told(client, "Second Of The Day", practice);
        using var browser = await Fitter(practice);
        (string, string)[] Typed(string at) => [("on", "2026-12-08"), ("at", at), ("fitter", $"{fitter}"), ("tell", "on")];

        Assert.Contains("done=book", await Press(browser, first, "book", practice, Typed("10:00")), StringComparison.Ordinal);
        var asks = await Press(browser, second, "book", practice, Typed("10:30"));

        Assert.StartsWith($"/reminders/{second.Id}/book?", asks, StringComparison.Ordinal);
        var page = WebUtility.HtmlDecode(await browser.Page(asks));
        Assert.Contains("Busy Fitter has a visit to First Of The Day at 10:00", page, StringComparison.Ordinal);
        Assert.Contains("value=\"10:30\"", page, StringComparison.Ordinal);
        Assert.Null((await service.Load(second, practice)).BookedFor);

        var not = await Sent(browser, asks, ("Form.On", "2026-12-08"), ("Form.At", "10:30"), ("Form.Fitter", $"{fitter}"));
        Assert.Contains("It is meant so", await not.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Null((await service.Load(second, practice)).BookedFor);
        var meant = await Sent(
            browser,
            asks,
            ("Form.On", "2026-12-08"),
            ("Form.At", "10:30"),
            ("Form.Fitter", $"{fitter}"),
            ("Form.EvenSo", "true")
        );
        Assert.Equal(HttpStatusCode.Redirect, meant.StatusCode);
        Assert.Equal(ReminderState.Booked, (await service.Load(second, practice)).State);
    }

    [Fact]
    public async Task A_fitter_whom_nobody_knows_is_told_beside_who_goes_and_not_beside_the_day()
    {
        const string practice = "unknown-fitter";
        await service.Found(practice);
        using var client = service.Client(practice);
        var fitter = await service.Person(practice, "Known Fitter", PersonRole.Fitter);
        var reminder = await service.Told(client, "Whom Nobody Visits", practice);
        using var browser = await Fitter(practice);
        (string, string)[] typed = [("on", "2026-12-08"), ("at", "10:00"), ("fitter", $"{Guid.NewGuid()}")];

        var asks = await Press(browser, reminder, "book", practice, typed);
        var page = WebUtility.HtmlDecode(await browser.Page(asks));
        Assert.Contains("id=\"fitter-wrong\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain("id=\"on-wrong\"", page, StringComparison.Ordinal);
        Assert.Contains($"value=\"{fitter}\"", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(LetterKind.OwnerRefit, "does not leave", "still leaves")]
    [InlineData(LetterKind.BookingCancelled, "still leaves", "does not leave")]
    public void Closing_says_of_a_waiting_letter_what_becomes_of_it(LetterKind kind, string says, string not)
    {
        var reminder = new Reminder
        {
            State = ReminderState.Open,
            Post = [new(Guid.NewGuid(), kind, Guid.NewGuid(), LetterState.Owed, TestClock.Running.GetUtcNow())],
        };
        var said = WhatFollows.Closing(reminder, new Practice());
        Assert.Contains(says, said, StringComparison.Ordinal);
        Assert.DoesNotContain(not, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_program_may_ask_for_a_clash_to_be_refused()
    {
        const string practice = "clashing-programs";
        await service.Found(practice);
        using var client = service.Client(practice);
        await service.Person(practice, "Only Fitter", PersonRole.Fitter);
        var first = await service.Told(client, "Booked By A Program", practice);
        var second = await service.Told(client, "Refused To A Program", practice);
        object At(bool evenSo) => new { @for = Given.InDays(9), evenSo };

        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Post, $"/api/reminders/{first.Id}/book", At(false))).StatusCode);
        var refused = await client.Write(HttpMethod.Post, $"/api/reminders/{second.Id}/book", At(false));
        Assert.Equal((HttpStatusCode.Conflict, "clash"), (refused.StatusCode, Given.Code(await refused.Json())));
        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Post, $"/api/reminders/{second.Id}/book", At(true))).StatusCode);
    }

    [Fact]
    public async Task A_letter_is_not_sent_a_second_time_within_the_hour_without_asking()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Written Once");
        using var browser = await Fitter(RunningService.Mine);

        var asks = await Press(browser, reminder, "tell-again", RunningService.Mine);

        Assert.StartsWith($"/reminders/{reminder.Id}/write-again?", asks, StringComparison.Ordinal);
        Assert.Contains("went to Owner of Written Once", await browser.Page(asks), StringComparison.Ordinal);
        Assert.Single((await service.Load(reminder)).Post);
        Assert.Equal(HttpStatusCode.Redirect, (await Sent(browser, asks)).StatusCode);
        Assert.Equal(2, (await service.Load(reminder)).Post.Count);
    }

    [Fact]
    public async Task Several_are_closed_at_once_and_one_that_moved_on_meanwhile_does_not_hold_up_the_others()
    {
        using var client = service.Client();
        var (one, two) = (await service.Told(client, "Closed Together"), await service.Told(client, "Answered Meanwhile"));
        using var browser = await Fitter(RunningService.Mine);
        var address = $"/reminders/many/close?of={one.Id}&of={two.Id}&list=state%3Dopen";
        var page = await browser.Page(address);
        Assert.Contains("is not raised again for", page, StringComparison.Ordinal);
        await client.Write(HttpMethod.Post, $"/api/reminders/{two.Id}/answer", new { answer = "book", words = "Soon." });

        var none = await Posted(browser, address, page, ("Form.Reason", " "));
        Assert.Contains("Say why", await none.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        var told = WebUtility.HtmlDecode(
            await (await Posted(browser, address, page, ("Form.Reason", "Sold."))).Content.ReadAsStringAsync()
        );

        Assert.Contains("One: closed.", told, StringComparison.Ordinal);
        Assert.Contains("Somebody changed this reminder", told, StringComparison.Ordinal);
        Assert.Equal(ReminderState.Closed, (await service.Load(one)).State);
        Assert.Equal(ReminderState.Open, (await service.Load(two)).State);
        // Sent once more by an impatient hand it says the same.
        var again = await (await Posted(browser, address, page, ("Form.Reason", "Sold."))).Content.ReadAsStringAsync();
        Assert.Contains("One: closed.", again, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_more_than_are_done_at_once_the_page_says_how_many_were_left_and_goes_on_with_them()
    {
        using var client = service.Client();
        var (first, last) = (await service.Told(client, "Ticked First"), await service.Told(client, "Ticked Last"));
        using var browser = await Fitter(RunningService.Mine);
        var others = Enumerable.Range(0, 101).Select(_ => Guid.NewGuid());
        var ids = others.Prepend(first.Id).Append(last.Id).Select(id => $"of={id}");
        var address = $"/reminders/many/close?{string.Join('&', ids)}";

        var page = await browser.Page(address);
        Assert.Contains("3 more were ticked than can be looked through at once.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Ticked Last", page, StringComparison.Ordinal);
        var told = WebUtility.HtmlDecode(
            await (await Posted(browser, address, page, ("Form.Reason", "Sold."))).Content.ReadAsStringAsync()
        );
        Assert.Contains("3 more were ticked, and nothing was done with them yet.", told, StringComparison.Ordinal);
        Assert.Equal(ReminderState.Open, (await service.Load(last)).State);

        var rest = Rest().Match(told).Groups["to"].Value;
        Assert.Contains("Ticked Last", await browser.Page(rest), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("put-off", ReminderState.PutOff)]
    [InlineData("write-again", ReminderState.Open)]
    public async Task Several_are_put_off_or_written_about_at_once(string what, ReminderState then)
    {
        using var client = service.Client();
        var (one, two) = (await service.Told(client, $"One to {what}"), await service.Told(client, $"Two to {what}"));
        using var browser = await Fitter(RunningService.Mine);
        var address = $"/reminders/many/{what}?of={one.Id}&of={two.Id}";

        var told = await Posted(
            browser,
            address,
            await browser.Page(address),
            ("Form.Reason", "Away."),
            ("Form.Until", "2026-12-20"),
            ("Form.EvenSo", "true")
        );

        Assert.Equal(HttpStatusCode.OK, told.StatusCode);
        foreach (var reminder in new[] { one, two })
        {
            var now = await service.Load(reminder);
            Assert.Equal(then, now.State);
            Assert.Equal(what == "write-again" ? 2 : 1, now.Post.Count);
        }
    }

    [Fact]
    public async Task The_list_puts_answers_first_and_finds_by_owner_telephone_and_yard_with_counts_that_follow()
    {
        const string practice = "listing";
        await service.Found(practice);
        using var client = service.Client(practice);
        var heard = await service.Told(client, "Heard First", practice);
        await service.Told(client, "Newer Without Answer", practice);
        await client.Write(HttpMethod.Post, $"/api/reminders/{heard.Id}/answer", new { answer = "book" });
        using var browser = await Fitter(practice);

        var all = await browser.Until("/reminders", "asks for a visit");
        Assert.Equal(["Heard First", "Newer Without Answer"], Horses(all));
        Assert.Equal(["Newer Without Answer"], Horses(await browser.Page("/reminders?answered=no")));
        Assert.Equal(["Newer Without Answer", "Heard First"], Horses(await browser.Page("/reminders?sort=newest")));
        var found = await browser.Page("/reminders?q=owner+of+heard");
        Assert.Equal(["Heard First"], Horses(found));
        Assert.Matches("Open\\s*<span class=\"num\">1</span>", found);
        Assert.Empty(Horses(await browser.Page("/reminders?q=nobody")));
        Assert.Contains("none of what is offered", await browser.Page("/reminders?sort=colour"), StringComparison.Ordinal);
    }

    private async Task<Browser> Fitter(string practice) =>
        await service.SignedIn(await service.Member($"Works {practice} {Guid.NewGuid():N}", (practice, PracticeRole.Fitter)));

    private static string[] Horses(string page) => [.. Names().Matches(page).Select(m => WebUtility.HtmlDecode(m.Groups["name"].Value))];

    /// <summary>Presses a form of a reminder's card.</summary>
    /// <returns>Where it leads.</returns>
    private async Task<string> Press(
        Browser browser,
        Reminder reminder,
        string act,
        string practice,
        params (string Name, string Value)[] typed
    )
    {
        var horse = (await service.Queries().Horses(practice, [reminder.HorseId], CancellationToken.None)).Values.Single();
        var card = (await browser.Page("/reminders?q=" + Uri.EscapeDataString(horse.Name)))
            .Split("<article")
            .Single(a => a.Contains($"r-{reminder.Id:N}", StringComparison.Ordinal));
        var form = card.Split("<form").First(f => f.Contains($"value=\"{act}\"", StringComparison.Ordinal)).Split("</form>")[0];
        var fields = Hidden(form).Where(f => f.Key != "act").Append(new("act", act));
        var answer = await browser.Client.PostAsync(
            $"/reminders/{reminder.Id}",
            new FormUrlEncodedContent(fields.Concat(typed.Select(f => new KeyValuePair<string, string>(f.Name, f.Value))))
        );
        return answer.Headers.Location!.ToString();
    }

    private static async Task<HttpResponseMessage> Sent(Browser browser, string address, params (string Name, string Value)[] typed) =>
        await Posted(browser, address, await browser.Page(address), typed);

    /// <summary>Sends the page's own form to its own address, as a browser does.</summary>
    private static Task<HttpResponseMessage> Posted(
        Browser browser,
        string address,
        string page,
        params (string Name, string Value)[] typed
    )
    {
        var form = page.Split("<form").Single(f => f.Contains("name=\"_handler\"", StringComparison.Ordinal)).Split("</form>")[0];
        return browser.Client.PostAsync(
            address,
            new FormUrlEncodedContent(Hidden(form).Concat(typed.Select(f => new KeyValuePair<string, string>(f.Name, f.Value))))
        );
    }

    private static IEnumerable<KeyValuePair<string, string>> Hidden(string form) =>
        Inputs().Matches(form).Select(i => new KeyValuePair<string, string>(Of(i.Value, "name"), Of(i.Value, "value")));

    private static string Of(string tag, string attribute) =>
        WebUtility.HtmlDecode(
            Regex
                .Match(tag, $"{attribute}=\"(?<is>[^\"]*)\"", default, System.Text.RegularExpressions.Regex.InfiniteMatchTimeout)
                .Groups["is"]
                .Value
        );

    [GeneratedRegex("href=\"(?<to>/reminders/many/close[^\"]*)\"", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Rest();

    [GeneratedRegex("<h2 class=\"of\" id=\"h-[^>]*>(?<name>[^<]*)</h2>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Names();

    [GeneratedRegex("<input type=\"hidden\"[^>]*>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Inputs();
}
