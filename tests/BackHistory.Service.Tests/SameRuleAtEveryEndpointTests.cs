using System.Net;
using System.Text.RegularExpressions;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Service.Reminders;
using BackHistory.Store;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>One act is the same act at every door: its right, what it asks for, what it leaves behind.</summary>
public sealed partial class SameRuleAtEveryEndpointTests(RunningService service)
{
    private static readonly string Drawn =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"300mm\" height=\"100mm\" viewBox=\"-150 -20 300 100\"><polyline points=\""
        + string.Join(' ', Enumerable.Range(-28, 57).Select(i => $"{5 * i},{i * i / 12.0:0.00}"))
        + "\"/></svg>";

    private static readonly DateTimeOffset Now = TestClock.Running.GetUtcNow();

    [Theory]
    [InlineData("entries")]
    [InlineData("csv")]
    [InlineData("contour")]
    [InlineData("visit")]
    [InlineData("form")]
    public async Task What_an_apprentice_enters_waits_for_a_fitter_whichever_way_it_came_in(string door)
    {
        var apprentice = await service.Member($"Learns by {door}", (RunningService.Mine, PracticeRole.Apprentice));
        using var entering = await service.Client(apprentice, RunningService.Mine);
        using var client = service.Client();
        var horse = await client.Horse($"Entered by {door}");
        var visit = Guid.Empty;
        if (door is not ("visit" or "form"))
        {
            var made = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = Now.AddDays(-3),
                    method = "flexible-curve",
                    entries = new[] { ClientExtensions.Section(45, 44) },
                }
            );
            visit = (await made.Json()).GetProperty("visitId").GetGuid();
        }

        var at = $"/api/horses/{horse}/visits/{visit}";
        HttpResponseMessage entered;
        switch (door)
        {
            case "entries":
                entered = await entering.Write(
                    HttpMethod.Post,
                    $"{at}/entries",
                    new { entries = new[] { ClientExtensions.Section(40, 41, "mid-back") } }
                );
                break;
            case "csv":
                var table = "x_mm,y_mm\n" + string.Join('\n', Enumerable.Range(-14, 29).Select(i => $"{10 * i},{-i * i / 3.0:0.0}"));
                entered = await entering.Write(HttpMethod.Post, $"{at}/tracings?station=mid-back", table, type: "text/csv");
                break;
            case "contour":
                entered = await entering.Write(
                    HttpMethod.Post,
                    $"{at}/contours/svg?station=mid-back&noise=1",
                    Drawn,
                    type: "application/octet-stream"
                );
                break;
            case "visit":
                entered = await entering.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits",
                    new
                    {
                        takenAt = Now.AddDays(-2),
                        method = "flexible-curve",
                        entries = new[] { ClientExtensions.Section(45, 44) },
                    }
                );
                visit = entered.IsSuccessStatusCode ? (await entered.Json()).GetProperty("visitId").GetGuid() : visit;
                break;
            default:
                using (var browser = await service.SignedIn(apprentice))
                {
                    var typed = await TypedVisit(browser, horse);
                    entered = await browser.Client.PostAsync(NewVisit(horse), new FormUrlEncodedContent(typed));
                }
                break;
        }

        Assert.True(
            entered.StatusCode is HttpStatusCode.Created or HttpStatusCode.Redirect,
            $"{entered.StatusCode}: {await entered.Content.ReadAsStringAsync()}"
        );
        var state = (await service.Services.GetRequiredService<HorseQueries>().Load(RunningService.Mine, horse, default))!;
        var visits = visit == Guid.Empty ? state.Visits.Values : [state.Visits[visit]];
        Assert.True(Assert.Single(visits).AwaitsConfirmation);
    }

    [Fact]
    public async Task A_form_that_is_sent_again_with_another_file_is_not_taken_for_the_same()
    {
        using var client = service.Client();
        var horse = await client.Horse("Traced Again");
        using var browser = await service.SignedIn(await service.Member("Sends Twice", (RunningService.Mine, PracticeRole.Fitter)));
        var typed = await TypedVisit(browser, horse);
        Assert.Equal(HttpStatusCode.Redirect, (await Send(browser, horse, typed, null)).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await Send(browser, horse, typed, null)).StatusCode);

        var again = await Send(browser, horse, typed, "x_mm,y_mm\n" + string.Join('\n', Enumerable.Range(-14, 29).Select(Point)));
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Contains("Nothing was saved", await again.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Single(Assert.Single((await Horse(horse)).Visits.Values).Entries);
    }

    [Fact]
    public async Task The_same_form_sent_by_two_people_or_for_two_horses_is_never_taken_for_one()
    {
        using var client = service.Client();
        var (horse, other) = (await client.Horse("Seen by Two"), await client.Horse("Seen After"));
        using var mine = await service.SignedIn(await service.Member("Sees First", (RunningService.Mine, PracticeRole.Fitter)));
        var typed = await TypedVisit(mine, horse);
        Assert.Equal(HttpStatusCode.Redirect, (await Send(mine, horse, typed, null)).StatusCode);

        var elsewhere = await Send(mine, other, typed, null);
        Assert.Equal(HttpStatusCode.OK, elsewhere.StatusCode);
        Assert.Contains("Nothing was saved", await elsewhere.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        var colleague = await service.Member("Sees Too", (RunningService.Mine, PracticeRole.Fitter));
        using var theirs = await service.SignedIn(colleague);
        var own = await TypedVisit(theirs, horse);
        var key = typed.First(f => f.Key == "Form.Key");
        var same = typed.Select(f => f.Key.StartsWith("Form.", StringComparison.Ordinal) ? f : own.First(o => o.Key == f.Key));
        Assert.Contains(key, same);
        Assert.Equal(HttpStatusCode.Redirect, (await Send(theirs, horse, [.. same], null)).StatusCode);
        Assert.Equal(2, (await Horse(horse)).Visits.Count);
    }

    private static string Point(int i) => $"{10 * i},{-i * i / 3.0:0.0}";

    private static string NewVisit(Guid horse) => $"/horses/{horse}/visits/new";

    /// <summary>The form of a new visit as it came, with a weight typed into it.</summary>
    private static async Task<IReadOnlyList<KeyValuePair<string, string>>> TypedVisit(Browser browser, Guid horse)
    {
        var all = await browser.Until(NewVisit(horse), "Form.Weight");
        var inside = all.IndexOf("Form.Weight", StringComparison.Ordinal);
        var html = all[
            all.LastIndexOf("<form", inside, StringComparison.Ordinal)..all.IndexOf("</form>", inside, StringComparison.Ordinal)
        ];
        var hidden = Hidden()
            .Matches(html)
            .Select(m => new KeyValuePair<string, string>(m.Groups["name"].Value, WebUtility.HtmlDecode(m.Groups["value"].Value)));
        var when = Inputs()
            .Matches(html)
            .Select(m => m.Value)
            .Where(i => i.Contains("Form.Day\"", StringComparison.Ordinal) || i.Contains("Form.Time\"", StringComparison.Ordinal))
            .Select(i => new KeyValuePair<string, string>(Named(i, "name"), Named(i, "value")));
        return
        [
            .. hidden,
            .. when,
            new("Form.Method", "flexible-curve"),
            new("Form.LevelGround", "true"),
            new("Form.StoodSquare", "true"),
            new("Form.Weight", "512"),
        ];
    }

    private static async Task<HttpResponseMessage> Send(
        Browser browser,
        Guid horse,
        IReadOnlyList<KeyValuePair<string, string>> typed,
        string? table
    )
    {
        using var form = new MultipartFormDataContent();
        foreach (var (name, value) in typed)
            form.Add(new StringContent(value), name);
        if (table is not null)
            form.Add(new StringContent(table), "file-behind-shoulder", "traced.csv");
        return await browser.Client.PostAsync(NewVisit(horse), form);
    }

    private async Task<History.Horses.Horse> Horse(Guid id) =>
        (await service.Services.GetRequiredService<HorseQueries>().Load(RunningService.Mine, id, default))!;

    [Fact]
    public async Task An_apprentice_neither_plans_visits_nor_merges_them()
    {
        var apprentice = await service.Member("Plans Nothing", (RunningService.Mine, PracticeRole.Apprentice));
        using var client = await service.Client(apprentice, RunningService.Mine);
        var horse = await client.Horse("Not Planned");
        var at = Now.AddDays(5);
        var visit = new { horseId = horse, at };
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (await client.Write(HttpMethod.Post, "/api/plan/accept", new { visits = new[] { visit } })).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (
                await client.Write(
                    HttpMethod.Post,
                    "/api/plan/decline",
                    new
                    {
                        horseId = horse,
                        reason = "no",
                        until = "2026-12-24",
                    }
                )
            ).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits/{Guid.CreateVersion7()}/merge",
                    new { intoId = Guid.CreateVersion7(), reason = "twice" }
                )
            ).StatusCode
        );
        using var browser = await service.SignedIn(apprentice);
        Assert.NotEqual(
            HttpStatusCode.OK,
            (await browser.Client.PostAsync("/plan", new FormUrlEncodedContent([new("act", "book")]))).StatusCode
        );
    }

    [Theory]
    [InlineData("interface")]
    [InlineData("letter")]
    [InlineData("shared view")]
    public async Task Whoever_answers_later_is_reminded_again_after_the_days_that_the_practice_set(string door)
    {
        var id = await Raised($"Later by {door}");
        await Answer(door, id, History.Reminders.Answer.Later);
        var reminder = await Load(id);
        Assert.Equal((ReminderState.PutOff, Day(21)), (reminder.State, reminder.PutOffUntil));
    }

    [Theory]
    [InlineData("interface")]
    [InlineData("letter")]
    [InlineData("shared view")]
    public async Task Whoever_changes_an_answer_and_changes_it_back_is_heard_each_time(string door)
    {
        var id = await Raised($"Changed by {door}");
        await Answer(door, id, History.Reminders.Answer.Later);
        await Answer(door, id, History.Reminders.Answer.Book);
        var booked = await Load(id);
        Assert.Equal(
            (ReminderState.Open, History.Reminders.Answer.Book, (DateOnly?)null),
            (booked.State, booked.Answer, booked.PutOffUntil)
        );
        await Answer(door, id, History.Reminders.Answer.Later);
        var later = await Load(id);
        Assert.Equal((ReminderState.PutOff, History.Reminders.Answer.Later, Day(21)), (later.State, later.Answer, later.PutOffUntil));

        // Pressed twice, an answer is one answer.
        await Answer(door, id, History.Reminders.Answer.Later);
        Assert.Equal(later.Version, (await Load(id)).Version);
    }

    [Fact]
    public async Task Words_that_were_sent_twice_with_one_answer_stand_once()
    {
        var id = await Raised("Said Twice");
        using var reader = service.Anonymous();
        var owner = await service.Person(RunningService.Mine, "Owner Who Says It Twice");
        var address = new Uri(
            service.Services.GetRequiredService<AnswerLinks>().Answer(RunningService.Mine, id, History.Reminders.Answer.Later, owner)
        ).AbsolutePath;
        var versions = new List<long>();
        foreach (var words in new[] { "After the show.", " After the show. ", "After the second show." })
        {
            await reader.PostAsync(address, new FormUrlEncodedContent([new("words", words)]));
            versions.Add((await Load(id)).Version);
        }

        Assert.Equal(versions[0], versions[1]);
        Assert.True(versions[2] > versions[1]);
    }

    private async Task Answer(string door, Guid id, Answer answer)
    {
        if (door == "interface")
        {
            using var client = service.Client();
            var answered = await client.Write(
                HttpMethod.Post,
                $"/api/reminders/{id}/answer",
                new { answer = answer.ToString().ToLowerInvariant() }
            );
            Assert.Equal(HttpStatusCode.OK, answered.StatusCode);
            return;
        }

        if (door == "shared view")
        {
            var horse = (await Load(id)).HorseId;
            using var sharing = service.Client();
            var made = await sharing.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "owner" });
            var link = new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath;
            using var browser = service.Browser();
            var token = Hidden().Matches(await browser.Until(link, "What shall we do?"));
            var forgery = token.First(m => m.Groups["name"].Value == "__RequestVerificationToken").Groups["value"].Value;
            var sent = new FormUrlEncodedContent([new("answer", answer.ToString()), new("__RequestVerificationToken", forgery)]);
            Assert.Equal(HttpStatusCode.Redirect, (await browser.Client.PostAsync($"{link}/answer", sent)).StatusCode);
            return;
        }

        using var reader = service.Anonymous();
        var owner = await service.Person(RunningService.Mine, "Owner Who Answers");
        var address = new Uri(
            service.Services.GetRequiredService<AnswerLinks>().Answer(RunningService.Mine, id, answer, owner)
        ).AbsolutePath;
        Assert.Equal(HttpStatusCode.Redirect, (await reader.PostAsync(address, new FormUrlEncodedContent([new("words", "")]))).StatusCode);
    }

    private async Task<Guid> Raised(string name)
    {
        using var client = service.Client();
        var horse = await client.Horse(name);
        var id = DeterministicId.From("raised", horse.ToString());
        var day = ZoneClock.Day(Now, TimeZoneInfo.Utc);
        // Due far ahead, so that it keeps its ground whatever the rules find of this horse meanwhile.
        var due = day.AddYears(20);
        var evidence = Evidence.WithoutMeasure(day, 1, due, "Something was found.");
        await service
            .Services.GetRequiredService<Commands>()
            .Execute<Reminder>(
                new CommandContext(RunningService.Mine, Guid.Empty, $"raise:{id}", "", null, Now),
                id,
                r => ReminderDecider.Decide(r, new RaiseReminder(id, horse, null, ReminderRule.CheckDue, evidence, [], Guid.Empty), Now),
                CancellationToken.None
            );
        return id;
    }

    private async Task<Reminder> Load(Guid id) =>
        (
            await service
                .Services.GetRequiredService<BackHistory.Store.Reminders.ReminderQueries>()
                .Load(RunningService.Mine, id, CancellationToken.None)
        )!;

    private static DateOnly Day(int later) => ZoneClock.Day(Now, TimeZoneInfo.Utc).AddDays(later);

    private static string Named(string input, string attribute)
    {
        var at = input.IndexOf(attribute + "=\"", StringComparison.Ordinal) + attribute.Length + 2;
        return at < attribute.Length + 2 ? "" : WebUtility.HtmlDecode(input[at..input.IndexOf('"', at)]);
    }

    [GeneratedRegex(
        "<input type=\"hidden\" name=\"(?<name>[^\"]+)\" value=\"(?<value>[^\"]*)\"",
        RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant
    )]
    private static partial Regex Hidden();

    [GeneratedRegex("<input[^>]*>", RegexOptions.CultureInvariant)]
    private static partial Regex Inputs();
}
