using System.Net;
using System.Text.Json;
using BackHistory.Application.Evaluation;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Service.Practices;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A practice's own rules and words.</summary>
public sealed class RulesAndWordsTests(RunningService service)
{
    [Fact]
    public void Every_rule_of_reminders_is_switched_on_the_page_by_its_own_setting()
    {
        Assert.Equal(Enum.GetValues<ReminderRule>().Order(), RuleWords.All.Select(r => r.Rule).Order());
        Assert.All(
            RuleWords.All,
            r =>
                Assert.Same(
                    ReminderRules.Default.SettingOf(r.Rule),
                    typeof(ReminderRules).GetProperty(char.ToUpperInvariant(r.Key[0]) + r.Key[1..])?.GetValue(ReminderRules.Default)
                )
        );
    }

    [Fact]
    public async Task Rules_are_switched_by_a_version_with_its_reason_and_bad_ones_are_refused()
    {
        using var client = service.Client(RunningService.Theirs);
        var before = await (await client.GetAsync("/api/reminder-rules")).Json();
        var rules = JsonSerializer.Deserialize<Dictionary<string, JsonElement>>(before.GetProperty("rules").GetRawText())!;
        rules["measureAgain"] = JsonSerializer.SerializeToElement(
            new
            {
                on = false,
                holdDays = 0,
                quietDays = 30,
            }
        );

        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await client.Write(HttpMethod.Put, "/api/reminder-rules", new { rules })).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Put, "/api/reminder-rules", new { rules, reason = "We always measure twice." })).StatusCode
        );
        var after = await (await client.GetAsync("/api/reminder-rules")).Json();
        Assert.Equal(before.GetProperty("version").GetInt32() + 1, after.GetProperty("version").GetInt32());
        Assert.False(after.GetProperty("rules").GetProperty("measureAgain").GetProperty("on").GetBoolean());
        var versions = await (await client.GetAsync("/api/reminder-rules/versions")).Json();
        Assert.Equal("We always measure twice.", versions[0].GetProperty("reason").GetString());

        rules["checkDue"] = JsonSerializer.SerializeToElement(
            new
            {
                on = true,
                holdDays = -1,
                quietDays = 30,
            }
        );
        Assert.Equal(
            "bad-rules",
            Given.Code(await (await client.Write(HttpMethod.Put, "/api/reminder-rules", new { rules, reason = "x" })).Json())
        );
    }

    [Fact]
    public async Task A_dry_run_names_the_horses_and_counts_what_would_have_been_raised()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Rehearsed Horse");

        var asked = await client.Write(HttpMethod.Post, "/api/reminder-rules/dry-runs", new { });
        Assert.Equal(HttpStatusCode.Accepted, asked.StatusCode);
        var run = await Given.Wait<object>(async () =>
            await (await client.GetAsync(asked.Headers.Location)).Json() is var r
            && r.GetProperty("finishedAt").ValueKind != JsonValueKind.Null
                ? r
                : null
        );
        var found = (JsonElement)run;
        Assert.Equal(found.GetProperty("wanted").GetInt32(), found.GetProperty("done").GetInt32());
        var raised = found
            .GetProperty("reminders")
            .EnumerateArray()
            .Single(r => r.GetProperty("horseId").GetGuid() == reminder.HorseId && r.GetProperty("rule").GetString() == "shape-changed");
        Assert.Equal("Rehearsed Horse", raised.GetProperty("horse").GetString());
    }

    [Fact]
    public async Task A_practice_tries_its_own_words_on_a_real_horse_before_they_are_in_force()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Previewed Horse");
        const string Own =
            "Subject: A word about your saddle\n\nDear {{ recipient }},\n\n{% lead %}{{ sentences | first }}{% endlead %}\n\n{% chart "
            + "%}\n\n{% answers %}\n\n{% cautions %}";

        var preview = await (
            await client.Write(
                HttpMethod.Post,
                "/api/letter-templates/owner-refit/en/preview",
                new { source = Own, horseId = reminder.HorseId }
            )
        ).Json();
        Assert.Equal("A word about your saddle", preview.GetProperty("subject").GetString());
        Assert.Contains("Previewed Horse", preview.GetProperty("html").GetString(), StringComparison.Ordinal);
        Assert.Contains("data:image/png;base64,", preview.GetProperty("html").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("cid:", preview.GetProperty("html").GetString(), StringComparison.Ordinal);
        var link = System
            .Text.RegularExpressions.Regex.Match(
                preview.GetProperty("text").GetString()!,
                @"http\S+/letter/\S+",
                System.Text.RegularExpressions.RegexOptions.None,
                System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
            )
            .Value;
        Assert.EndsWith("/letter/preview", link, StringComparison.Ordinal);
        Assert.False((await (await client.GetAsync("/api/letter-templates/owner-refit/en")).Json()).GetProperty("own").GetBoolean());
    }

    [Fact]
    public async Task A_manager_looks_at_a_letter_beside_its_words_in_a_frame_that_runs_nothing()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Looked At Horse");
        using var browser = await service.SignedIn(
            await service.Member("Looks At Letters", (RunningService.Mine, BackHistory.Store.Accounts.PracticeRole.Manager))
        );
        Assert.Contains("/practice/letters/owner-refit/en", await browser.Page("/practice/letters"), StringComparison.Ordinal);
        const string Page = "/practice/letters/owner-refit/en";
        var shown = await Looked(
            browser,
            Page,
            ("Form.Subject", "Words of ours"),
            (
                "Form.Words",
                "Dear [the reader's name], <b>plain</b>\r\n\r\n[chart over time]\r\n\r\n[the three answers]\r\n\r\n[the cautions]"
            ),
            ("horse", reminder.HorseId.ToString())
        );
        Assert.Equal(HttpStatusCode.OK, shown.StatusCode);
        var html = await shown.Content.ReadAsStringAsync();
        Assert.Contains("Words of ours", html, StringComparison.Ordinal);
        Assert.Contains("data:image/png;base64,", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>plain</b>", html, StringComparison.Ordinal);
        Assert.Contains("sandbox", shown.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        var refused = await Looked(browser, Page, ("Form.Source", "Subject: x\n\n{{ secrets }} {% answers %}"));
        Assert.Contains("It cannot be written.", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        var nothing = await browser.Get("/practice/letters/no-such/en");
        Assert.Equal(HttpStatusCode.NotFound, nothing.StatusCode);
        Assert.Contains("There is nothing here.", await nothing.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static Task<HttpResponseMessage> Looked(Browser browser, string page, params (string Name, string Value)[] typed) =>
        browser.PostHeld(page, $"{page}/look", typed);

    [Fact]
    public async Task Words_are_written_as_text_on_their_page_and_kept_as_the_template_that_says_them()
    {
        const string Practice = "words as text";
        await service.Found(Practice);
        using var client = service.Client(Practice);
        using var browser = await service.SignedIn(
            await service.Member("Writes Letters", (Practice, BackHistory.Store.Accounts.PracticeRole.Manager))
        );
        const string Page = "/practice/letters/owner-check/de";
        var page = await browser.Page(Page);
        Assert.DoesNotContain("{%", page, StringComparison.Ordinal);
        Assert.DoesNotContain("{{", page, StringComparison.Ordinal);
        Assert.Contains("<span data-insert>[Name des Pferdes]</span>", page, StringComparison.Ordinal);

        var wrong = await (await browser.Press(Page, ("Form.Words", "Guten Tag [Nahme],\r\n\r\n[die drei Antworten]"))).Words();
        Assert.Contains("id=\"words-wrong\"", wrong, StringComparison.Ordinal);
        var said = wrong.Split("id=\"words-wrong\"")[1].Split("</small>")[0];
        Assert.Contains("Line 1: “[Nahme]” is nothing that can be put in", said, StringComparison.Ordinal);
        Assert.Contains("Guten Tag [Nahme],", wrong, StringComparison.Ordinal);
        var without = await (await browser.Press(Page, ("Form.Words", "Guten Tag."))).Words();
        Assert.Contains("id=\"words-wrong\"", without, StringComparison.Ordinal);

        var saved = await browser.Press(
            Page,
            ("Form.Subject", "Unser Wort"),
            ("Form.Words", "Guten Tag [Name des Lesers],\r\n\r\n[was gefunden wurde, groß]\r\n\r\n[die drei Antworten]")
        );
        Assert.Equal($"{Page}?saved=words", saved.Then());
        var kept = (await (await client.GetAsync("/api/letter-templates/owner-check/de")).Json()).GetProperty("source").GetString();
        Assert.Equal(
            "Subject: Unser Wort\n\nGuten Tag {{ recipient }},\n\n{% lead %}{{ sentences[0] }}{% endlead %}\n\n{% answers %}\n",
            kept
        );
        Assert.Contains("value=\"Unser Wort\"", await browser.Page(Page), StringComparison.Ordinal);

        // What only the template language can say is shown in it, and is not lost.
        const string Code = "Subject: x\n\n{% unless count == 3 %}Guten Tag{% endunless %} {% answers %}";
        await client.Write(HttpMethod.Put, "/api/letter-templates/owner-check/de", new { source = Code });
        Assert.Contains("{% unless count == 3 %}", System.Net.WebUtility.HtmlDecode(await browser.Page(Page)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("No subject here", "line 1")]
    [InlineData("Subject: x\n\n{{ secrets }} {% answers %}", "line 3")]
    [InlineData("Subject: {{ recipient }}\n\n{% answers %}", null)]
    [InlineData("Subject: x\n\n{% for i in (1..100000000) %}x{% endfor %}{% answers %}", null)]
    [InlineData("Subject: x\n\n{% include 'passwords' %}{% answers %}", "line 3")]
    public async Task Words_that_cannot_be_used_are_refused_with_their_place(string source, string? place)
    {
        using var client = service.Client();
        var refused = await client.Write(HttpMethod.Put, "/api/letter-templates/owner-refit/en", new { source });
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        var problem = await refused.Json();
        Assert.Equal("bad-template", Given.Code(problem));
        if (place is not null)
            Assert.Equal(place, problem.GetProperty("place").GetString());
    }

    [Fact]
    public async Task A_practices_own_words_are_in_its_letters_until_it_returns_to_the_shipped_ones()
    {
        using var client = service.Client(RunningService.Theirs);
        const string Own = "Subject: Our own words\n\nHello {{ recipient }}, {{ sentences | first }}\n\n{% answers %}\n\n{% cautions %}";
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Put, "/api/letter-templates/owner-refit/en", new { source = Own })).StatusCode
        );
        var reminder = await service.Told(client, "Own Words Horse", RunningService.Theirs);
        Assert.Equal(
            "Our own words",
            (await service.Queries().Content(RunningService.Theirs, reminder.Post[0].LetterId, CancellationToken.None))!.Subject
        );

        await client.Write(HttpMethod.Put, "/api/letter-templates/owner-refit/en", new { source = (string?)null });
        Assert.False((await (await client.GetAsync("/api/letter-templates/owner-refit/en")).Json()).GetProperty("own").GetBoolean());
    }

    [Fact]
    public async Task A_German_owner_reads_German_and_answers_on_a_German_page()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Deutsches Pferd", language: "de");
        var letter = (await service.Queries().Content(RunningService.Mine, reminder.Post[0].LetterId, CancellationToken.None))!;
        Assert.Contains("Der Rücken von Deutsches Pferd", letter.Text, StringComparison.Ordinal);
        Assert.Contains("lang=\"de\"", letter.Html, StringComparison.Ordinal);
        Assert.DoesNotContain("since the saddle", letter.Html, StringComparison.Ordinal);

        var link = new Uri(
            System
                .Text.RegularExpressions.Regex.Match(
                    letter.Text,
                    @"http\S+/letter/\S+",
                    System.Text.RegularExpressions.RegexOptions.None,
                    System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
                )
                .Value
        ).AbsolutePath;
        using var reader = service.Anonymous();
        Assert.Contains("Um einen Termin bitten?", await reader.GetStringAsync(link), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_mail_program_ends_a_kind_of_letter_at_one_click_and_is_sent_nowhere_else()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Unsubscribed Horse");
        var content = (await service.Queries().Content(RunningService.Mine, reminder.Post[0].LetterId, CancellationToken.None))!;

        using var program = service.Anonymous();
        // RFC 8058, section 3.1: a POST with this body, and no redirect.
        using var answer = await program.PostAsync(
            new Uri(content.StopUrl).AbsolutePath,
            new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")])
        );
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var person = (
            await service
                .Services.GetRequiredService<PracticeQueries>()
                .Person(RunningService.Mine, reminder.Post[0].To, CancellationToken.None)
        )!;
        Assert.Equal([LetterKind.OwnerRefit], person.Stopped);
    }

    [Fact]
    public async Task Whoever_answers_later_is_reminded_again_after_the_practices_own_pause()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Later Horse");
        var content = (await service.Queries().Content(RunningService.Mine, reminder.Post[0].LetterId, CancellationToken.None))!;
        var links = System.Text.RegularExpressions.Regex.Matches(
            content.Text,
            @"http\S+/letter/\S+",
            System.Text.RegularExpressions.RegexOptions.None,
            System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
        );

        using var reader = service.Anonymous();
        using var posted = await reader.PostAsync(new Uri(links[1].Value).AbsolutePath, new FormUrlEncodedContent([new("words", "")]));
        Assert.Equal(HttpStatusCode.Redirect, posted.StatusCode);
        var later = await service.Load(reminder);
        Assert.Equal((Answer.Later, ReminderState.PutOff), (later.Answer, later.State));
        Assert.Equal(ZoneClock.Day(Given.InDays(ReminderRules.Default.Letters.LaterDays), TimeZoneInfo.Utc), later.PutOffUntil);
    }

    [Fact]
    public async Task The_health_of_evaluations_is_green_after_one_and_red_when_none_came_for_an_hour()
    {
        using var client = service.Client();
        await service.Told(client, "Healthy Horse");
        using var anybody = service.Anonymous();
        Assert.Equal(HttpStatusCode.OK, (await anybody.GetAsync("/health/evaluations")).StatusCode);

        var (known, runs) = (service.Services.GetRequiredService<KnownPractices>(), service.Services.GetRequiredService<EvaluationRuns>());
        var clock = new Testing.FixedTime(TestClock.Running.GetUtcNow());
        var watch = new EvaluationWatch(known, runs, clock);
        Assert.True(await watch.Longest(CancellationToken.None) < EvaluationWatch.Late);
        clock.Now = clock.Now.AddHours(2);
        Assert.True(await watch.Longest(CancellationToken.None) > EvaluationWatch.Late);
    }
}
