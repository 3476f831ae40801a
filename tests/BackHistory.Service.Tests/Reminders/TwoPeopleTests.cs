using System.Net;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>Two people, one reminder: what one did is not undone by a page that the other had open before.</summary>
public sealed class TwoPeopleTests(RunningService service)
{
    [Fact]
    public async Task A_booking_that_another_made_meanwhile_is_told_and_not_moved_and_the_owner_is_written_to_once()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Booked By Two");
        var page = $"/reminders/{reminder.Id}";
        var first = await Somebody("First Of Two");
        var second = await Somebody("Second Of Two");
        var (before, same) = (await Form(first, "Booked By Two", "book"), await Form(second, "Booked By Two", "book"));

        Assert.DoesNotContain(
            "problem=",
            await Press(first, page, before, ("on", "2026-12-06"), ("at", "10:00")),
            StringComparison.Ordinal
        );
        var told = await Press(second, page, same, ("on", "2026-12-07"), ("at", "10:00"));

        Assert.Contains("problem=Somebody%20changed%20this%20reminder", told, StringComparison.Ordinal);
        var standing = await service.Load(reminder);
        Assert.Equal(new DateTimeOffset(2026, 12, 6, 10, 0, 0, TimeSpan.Zero), standing.BookedFor);
        Assert.Single(standing.Post, l => l.Kind == LetterKind.BookingMade);

        // Asked, and pressed again on the page as it stands now, it is moved.
        var again = await Form(second, "Booked By Two", "book", "booked");
        Assert.DoesNotContain(
            "problem=",
            await Press(second, page, again, ("on", "2026-12-07"), ("at", "10:00")),
            StringComparison.Ordinal
        );
        Assert.Equal(7, (await service.Load(reminder)).BookedFor!.Value.Day);
    }

    [Fact]
    public async Task A_form_that_was_sent_already_and_comes_again_with_another_day_is_told_and_not_passed_over()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Sent Twice");
        var (page, person) = ($"/reminders/{reminder.Id}", await Somebody("Who Presses Twice"));
        var form = await Form(person, "Sent Twice", "book");

        Assert.DoesNotContain("problem=", await Press(person, page, form, ("on", "2026-12-06"), ("at", "10:00")), StringComparison.Ordinal);
        // By an impatient hand: the same.
        Assert.DoesNotContain("problem=", await Press(person, page, form, ("on", "2026-12-06"), ("at", "10:00")), StringComparison.Ordinal);
        Assert.Contains("problem=", await Press(person, page, form, ("on", "2026-12-09"), ("at", "10:00")), StringComparison.Ordinal);
        Assert.Equal(6, (await service.Load(reminder)).BookedFor!.Value.Day);
    }

    [Theory]
    [InlineData("close", "reason")]
    [InlineData("put-off", "reason")]
    [InlineData("done", null)]
    public async Task What_a_page_did_not_show_is_not_ended_or_put_off_from_it(string act, string? field)
    {
        using var client = service.Client();
        var name = $"Seen By Two {act}";
        var reminder = await service.Told(client, name);
        var other = await Somebody($"Other {act}");
        var shown = await Form(other, name, act);
        var answered = await client.Write(
            HttpMethod.Post,
            $"/api/reminders/{reminder.Id}/answer",
            new { answer = "book", words = "Soon." }
        );
        Assert.Equal(HttpStatusCode.OK, answered.StatusCode);

        (string, string)[] given = field is null ? [] : [(field, "Nothing to do."), ("on", "2026-12-20")];
        var told = await Press(other, $"/reminders/{reminder.Id}", shown, given);

        Assert.Contains("problem=Somebody%20changed%20this%20reminder", told, StringComparison.Ordinal);
        Assert.Equal(ReminderState.Open, (await service.Load(reminder)).State);
    }

    [Theory]
    [InlineData("book")]
    [InlineData("close")]
    [InlineData("put-off")]
    [InlineData("done")]
    [InlineData("tell-again")]
    public async Task A_form_that_does_not_say_what_it_showed_does_nothing_and_is_shown_again(string act)
    {
        using var client = service.Client();
        var name = $"Shown Nothing {act}";
        var reminder = await service.Told(client, name);
        var person = await Somebody($"Shows Nothing {act}");
        var form = (await Form(person, name, act)).Where(f => f.Name != "shown").ToList();
        var before = (await service.Load(reminder)).Version;

        var told = await Press(
            person,
            $"/reminders/{reminder.Id}",
            form,
            ("on", "2026-12-06"),
            ("at", "10:00"),
            ("reason", "Nothing to do.")
        );

        Assert.Contains("problem=Somebody%20changed%20this%20reminder", told, StringComparison.Ordinal);
        Assert.Equal(before, (await service.Load(reminder)).Version);
    }

    [Fact]
    public async Task A_row_of_the_plan_that_does_not_say_what_it_showed_or_that_moved_on_books_nothing()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Planned Blindly");
        var horse = reminder.HorseId;
        var person = await Somebody("Plans Blindly");
        var page = await person.Page("/plan?month=2026-12");
        var shown = Of(
            System
                .Text.RegularExpressions.Regex.Match(
                    page,
                    $"<input[^>]*name=\"shown-{horse:N}\"[^>]*>",
                    default,
                    System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
                )
                .Value,
            "value"
        );
        var token = (await Form(person, "Planned Blindly", "book")).Where(f => f.Name.StartsWith("__", StringComparison.Ordinal));
        (string, string)[] Row(params (string, string)[] more) =>
            [
                ("month", "2026-12"),
                ("key", Guid.NewGuid().ToString("N")),
                ("take", horse.ToString()),
                ($"on-{horse:N}", "2026-12-18"),
                ($"at-{horse:N}", "10:00"),
                .. more,
            ];

        Assert.Contains("problem=Somebody%20changed", await Press(person, "/plan", [.. token], Row()), StringComparison.Ordinal);
        Assert.Null((await service.Load(reminder)).BookedFor);
        await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/answer", new { answer = "not-needed", words = "Sold." });
        Assert.Contains(
            "problem=Somebody%20changed",
            await Press(person, "/plan", [.. token], Row(($"shown-{horse:N}", WebUtility.HtmlDecode(shown)))),
            StringComparison.Ordinal
        );
        Assert.Null((await service.Load(reminder)).BookedFor);
        var now = (await service.Load(reminder)).StandingTag();
        Assert.Contains("done=1", await Press(person, "/plan", [.. token], Row(($"shown-{horse:N}", now))), StringComparison.Ordinal);
        Assert.NotNull((await service.Load(reminder)).BookedFor);
    }

    [Fact]
    public async Task A_link_in_a_letter_ends_with_whoever_it_was_written_to()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Answered After All");
        var content = (await service.Queries().Content(RunningService.Mine, reminder.Post[0].LetterId, default))!;
        var links = System
            .Text.RegularExpressions.Regex.Matches(
                content.Text,
                @"http\S+/letter/\S+",
                default,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Select(m => new Uri(m.Value).AbsolutePath)
            .Append(new Uri(content.StopUrl).AbsolutePath)
            .ToList();
        using var reader = service.Anonymous();
        Assert.DoesNotContain("does not work any more", await reader.GetStringAsync(links[0]), StringComparison.Ordinal);
        var erased = await client.Write(HttpMethod.Post, $"/api/people/{reminder.Post[0].To}/erase", new { });
        Assert.Equal(HttpStatusCode.OK, erased.StatusCode);
        var before = (await service.Load(reminder)).Version;

        foreach (var link in links)
        {
            Assert.Contains("does not work any more", await reader.GetStringAsync(link), StringComparison.Ordinal);
            await reader.PostAsync(link, new FormUrlEncodedContent([new("words", "Still here.")]));
        }

        Assert.Equal(before, (await service.Load(reminder)).Version);
    }

    [Fact]
    public async Task A_letter_that_left_while_a_page_was_open_asks_nothing()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Only Told");
        var person = await Somebody("Slow Reader");
        var shown = await Form(person, "Only Told", "book");
        await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/tell-again", new { });

        Assert.DoesNotContain(
            "problem=",
            await Press(person, $"/reminders/{reminder.Id}", shown, ("on", "2026-12-06"), ("at", "10:00")),
            StringComparison.Ordinal
        );
        Assert.Equal(ReminderState.Booked, (await service.Load(reminder)).State);
    }

    [Fact]
    public async Task A_form_sent_twice_does_its_work_once_and_asks_nothing()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Pressed Twice");
        var person = await Somebody("Double Press");
        var shown = await Form(person, "Pressed Twice", "book");
        for (var i = 0; i < 2; i++)
            Assert.DoesNotContain(
                "problem=",
                await Press(person, $"/reminders/{reminder.Id}", shown, ("on", "2026-12-06"), ("at", "10:00")),
                StringComparison.Ordinal
            );
        Assert.Single((await service.Load(reminder)).Post, l => l.Kind == LetterKind.BookingMade);
    }

    [Fact]
    public async Task Over_the_interface_the_second_of_two_is_refused_by_its_version_and_the_same_hour_twice_is_told_once()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Booked By Programs");
        var path = $"/api/reminders/{reminder.Id}/book";
        var at = Given.InDays(9);
        var version = (await client.GetAsync($"/api/reminders/{reminder.Id}")).Headers.ETag!.Tag;
        var first = await client.Write(HttpMethod.Post, path, new { @for = at }, ifMatch: version);
        Assert.Equal(HttpStatusCode.OK, first.StatusCode);
        var second = await client.Write(HttpMethod.Post, path, new { @for = Given.InDays(10) }, ifMatch: version);
        Assert.Equal(HttpStatusCode.PreconditionFailed, second.StatusCode);
        var same = await client.Write(HttpMethod.Post, path, new { @for = at });
        Assert.Equal(HttpStatusCode.OK, same.StatusCode);
        Assert.Single((await service.Load(reminder)).Post, l => l.Kind == LetterKind.BookingMade);
    }

    [Fact]
    public async Task A_plan_that_was_open_does_not_move_a_visit_that_was_booked_meanwhile()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Planned By Two");
        await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/book", new { @for = Given.InDays(9) });
        var person = await Somebody("Plans Late");
        var token = await Form(person, "Planned By Two", "book", "booked");
        var horse = reminder.HorseId;
        var told = await Press(
            person,
            "/plan",
            [.. token.Where(f => f.Name.StartsWith("__", StringComparison.Ordinal))],
            ("month", "2026-12"),
            ("key", Guid.NewGuid().ToString("N")),
            ("take", horse.ToString()),
            ($"on-{horse:N}", "2026-12-18"),
            ($"at-{horse:N}", "10:00")
        );
        Assert.Contains("booked%20already", told, StringComparison.Ordinal);
        Assert.Equal(
            ZoneClock.Day(Given.InDays(9), TimeZoneInfo.Utc),
            ZoneClock.Day((await service.Load(reminder)).BookedFor!.Value, TimeZoneInfo.Utc)
        );
    }

    [Fact]
    public async Task What_the_owner_wrote_and_that_they_want_no_more_letters_stands_on_the_list_and_on_the_horses_page()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Heard Horse");
        var owner = await service.Person(RunningService.Mine, "Owner of Heard Horse");
        var content = (await service.Queries().Content(RunningService.Mine, reminder.Post[0].LetterId, default))!;
        var links = System
            .Text.RegularExpressions.Regex.Matches(
                content.Text,
                @"http\S+/letter/\S+",
                default,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Select(m => new Uri(m.Value).AbsolutePath)
            .ToList();
        using var reader = service.Anonymous();
        await reader.PostAsync(links[0], new FormUrlEncodedContent([new("words", "Please come on a Tuesday.")]));
        var stopped = await reader.PostAsync(
            new Uri(content.StopUrl).AbsolutePath,
            new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")])
        );
        Assert.Equal(HttpStatusCode.OK, stopped.StatusCode);

        var person = await Somebody("Who Acts");
        Assert.Equal(owner, reminder.Post[0].To);
        var card = await Card(person, "Heard Horse", "open");
        Assert.Contains("Please come on a Tuesday.", card, StringComparison.Ordinal);
        Assert.Contains("Owner of Heard Horse asked for no more letters of this kind", card, StringComparison.Ordinal);
        var history = await person.Until($"/horses/{reminder.HorseId}", "Please come on a Tuesday.");
        Assert.Contains("The owner asked for no more letters of these kinds", history, StringComparison.Ordinal);
    }

    private async Task<Browser> Somebody(string name) =>
        await service.SignedIn(await service.Member(name, (RunningService.Mine, PracticeRole.Fitter)));

    private static async Task<string> Card(Browser browser, string horse, string state)
    {
        for (var next = $"/reminders?state={state}"; ; )
        {
            var page = await browser.Page(next);
            var card = page.Split("<article").FirstOrDefault(a => a.Contains($">{horse}</a>", StringComparison.Ordinal));
            if (card is not null)
                return card.Split("</article>")[0];
            var more = System.Text.RegularExpressions.Regex.Match(
                page,
                "href=\"(?<to>[^\"]*)\" rel=\"next\"",
                default,
                Timeout.InfiniteTimeSpan
            );
            Assert.True(more.Success, $"{horse} stands on no page of {state}");
            next = WebUtility.HtmlDecode(more.Groups["to"].Value);
        }
    }

    /// <summary>The fields that a form of the horse's card holds.</summary>
    private static async Task<IReadOnlyList<(string Name, string Value)>> Form(
        Browser browser,
        string horse,
        string act,
        string state = "open"
    )
    {
        var card = await Card(browser, horse, state);
        var form = card.Split("<form").First(f => f.Contains($"value=\"{act}\"", StringComparison.Ordinal)).Split("</form>")[0];
        var fields = System
            .Text.RegularExpressions.Regex.Matches(
                form,
                "<input type=\"hidden\"[^>]*>",
                default,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Select(i => (Name: Of(i.Value, "name"), Value: WebUtility.HtmlDecode(Of(i.Value, "value"))))
            .Where(f => f.Name != "act")
            .ToList();
        return [.. fields, ("act", act), ("tell", "on")];
    }

    private static string Of(string tag, string attribute) =>
        System
            .Text.RegularExpressions.Regex.Match(
                tag,
                $"{attribute}=\"(?<is>[^\"]*)\"",
                default,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Groups["is"]
            .Value;

    /// <returns>Where it leads, with what is said there.</returns>
    private static async Task<string> Press(
        Browser browser,
        string path,
        IReadOnlyList<(string Name, string Value)> form,
        params (string Name, string Value)[] typed
    )
    {
        var fields = form.Concat(typed).Select(f => new KeyValuePair<string, string>(f.Name, f.Value));
        using var answer = await browser.Client.PostAsync(new Uri(path, UriKind.Relative), new FormUrlEncodedContent(fields));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return answer.Headers.Location!.ToString();
    }
}
