using System.Net;
using System.Text;
using System.Text.Json;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Reminders;
using BackHistory.Store.Practices;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>People over HTTP: saving changes what was sent and nothing else.</summary>
public sealed class PeopleApiTests(RunningService service)
{
    [Fact]
    public async Task Typing_in_a_telephone_number_does_not_undo_an_unsubscribe()
    {
        using var client = service.Client();
        var id = await Add(client, Details("Unsubscribed Owner"));
        await Stop(id, LetterKind.OwnerCheck);
        Assert.True(
            (
                await client.Write(
                    HttpMethod.Put,
                    $"/api/people/{id}",
                    new
                    {
                        name = "Unsubscribed Owner",
                        email = "stops@people.invalid",
                        phone = "030 1234",
                        role = "owner",
                    }
                )
            ).IsSuccessStatusCode
        );
        var person = await Load(id);
        Assert.Equal([LetterKind.OwnerCheck], person.Stopped);
        Assert.Equal(("030 1234", "stops@people.invalid"), (person.Phone, person.Email));
        // Not sent, they stay; sent empty, they go.
        Assert.Equal(
            ("1 Long Lane", "de", "Europe/Berlin", PersonRole.Owner),
            (person.Address, person.Language, person.TimeZone, person.Role)
        );
        Assert.True(
            (
                await client.Write(
                    HttpMethod.Put,
                    $"/api/people/{id}",
                    """{ "name": "Unsubscribed Owner", "address": null, "timeZone": null }"""
                )
            ).IsSuccessStatusCode
        );
        person = await Load(id);
        Assert.Equal((null, null, "030 1234", "de"), (person.Address, person.TimeZone, person.Phone, person.Language));
        Assert.Equal([LetterKind.OwnerCheck], person.Stopped);
    }

    [Fact]
    public async Task Letters_that_are_stopped_while_the_person_is_saved_stay_stopped()
    {
        using var client = service.Client();
        var kinds = Enum.GetValues<LetterKind>();
        for (var round = 0; round < 5; round++)
        {
            var id = await Add(client, Details($"Stops And Saves {round}"));
            var saved = kinds.Select(
                (_, n) => client.Write(HttpMethod.Put, $"/api/people/{id}", new { name = $"Stops And Saves {round}", phone = $"030 {n}" })
            );
            await Task.WhenAll([.. kinds.Select(kind => Stop(id, kind)), .. saved]);
            Assert.Equal(kinds, (await Load(id)).Stopped.Order());
        }
    }

    [Fact]
    public async Task The_request_that_added_a_person_sent_once_more_takes_nothing_back()
    {
        using var client = service.Client();
        var (key, details) = (Guid.NewGuid().ToString(), Details("Added Twice"));
        var id = await Add(client, details, key);
        await Stop(id, LetterKind.OwnerCheck);
        await client.Write(HttpMethod.Put, $"/api/people/{id}", new { name = "Added Twice", phone = "030 1234" });
        Assert.Equal(id, await Add(client, details, key));
        var person = await Load(id);
        Assert.Equal("030 1234", person.Phone);
        Assert.Equal([LetterKind.OwnerCheck], person.Stopped);

        // Nor does it bring back whom somebody erased in between.
        Assert.True((await client.Write(HttpMethod.Post, $"/api/people/{id}/erase", new { })).IsSuccessStatusCode);
        var again = await client.Write(HttpMethod.Post, "/api/people", details, key);
        Assert.Equal(HttpStatusCode.Conflict, again.StatusCode);
        Assert.Contains("was erased", (await again.Json()).GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Null(await People.Person(RunningService.Mine, id, CancellationToken.None));
    }

    [Fact]
    public async Task A_table_of_people_that_comes_once_more_takes_nothing_back_and_brings_nobody_back()
    {
        using var client = service.Client(RunningService.Counted);
        var mark = Guid.NewGuid().ToString("N")[..6];
        var table = $"name,email\nRenamed {mark},renamed.{mark}@people.invalid\nErased {mark},erased.{mark}@people.invalid\n";
        Assert.Equal((2, 0, 0), await Enter(client, table));
        var people = (await client.GetFromJson("/api/people?limit=200"))
            .GetProperty("items")
            .EnumerateArray()
            .Where(p => p.GetProperty("name").GetString()!.EndsWith(mark, StringComparison.Ordinal))
            .ToList();
        var (renamed, erased) = (
            people.Single(p => p.GetProperty("name").GetString()![0] == 'R').GetProperty("id").GetGuid(),
            people.Single(p => p.GetProperty("name").GetString()![0] == 'E').GetProperty("id").GetGuid()
        );
        await client.Write(HttpMethod.Put, $"/api/people/{renamed}", new { name = $"Married {mark}", phone = "030 1234" });
        await Stop(renamed, LetterKind.OwnerCheck, RunningService.Counted);
        Assert.True((await client.Write(HttpMethod.Post, $"/api/people/{erased}/erase", new { })).IsSuccessStatusCode);

        Assert.Equal((0, 1, 1), await Enter(client, table));
        var person = (await People.Person(RunningService.Counted, renamed, CancellationToken.None))!;
        Assert.Equal(($"Married {mark}", "030 1234"), (person.Name, person.Phone));
        Assert.Equal([LetterKind.OwnerCheck], person.Stopped);
        Assert.Null(await People.Person(RunningService.Counted, erased, CancellationToken.None));
    }

    [Fact]
    public async Task Correcting_the_words_of_a_note_keeps_of_whom_they_tell()
    {
        using var client = service.Client();
        var id = await Add(client, Details("Told Of In A Note"));
        var horse = await client.Horse("Noted And Corrected");
        var note = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/care",
                    new
                    {
                        kind = "other",
                        from = "2026-04-01",
                        words = "Was unwell at the visti.",
                        about = new[] { id },
                    }
                )
            ).Json()
        ).GetProperty("made").GetGuid();
        var corrected = await client.Write(
            HttpMethod.Put,
            $"/api/horses/{horse}/care/{note}",
            new
            {
                kind = "other",
                from = "2026-04-01",
                words = "Was unwell at the visit.",
                reason = "Typing error.",
            }
        );
        Assert.True(corrected.IsSuccessStatusCode, await corrected.Content.ReadAsStringAsync());
        var kept = Assert.Single(
            await service
                .Services.GetRequiredService<BackHistory.Store.Notes.NoteQueries>()
                .Load(RunningService.Mine, [note], CancellationToken.None)
        );
        Assert.Equal("Was unwell at the visit.", kept.Words);
        Assert.Equal([id], kept.About);
    }

    [Theory]
    [InlineData(
        "people",
        """{ "name": "Versioned", "role": "owner", "phone": "030 1" }""",
        """{ "name": "Versioned", "phone": "030 2" }"""
    )]
    [InlineData("yards", """{ "name": "Versioned Yard", "town": "Here" }""", """{ "name": "Versioned Yard", "town": "There" }""")]
    public async Task Who_changes_a_person_or_a_yard_names_the_version_that_they_saw(string kind, string made, string changed)
    {
        using var client = service.Client();
        var key = Guid.NewGuid().ToString();
        var added = await client.Write(HttpMethod.Post, $"/api/{kind}", made, key);
        Assert.Equal((HttpStatusCode.Created, "\"1\""), (added.StatusCode, added.Headers.ETag?.Tag));
        var path = $"/api/{kind}/{(await added.Json()).GetProperty("id").GetGuid()}";
        var read = await client.GetAsync(path);
        Assert.Equal((HttpStatusCode.OK, "\"1\""), (read.StatusCode, read.Headers.ETag?.Tag));
        Assert.Equal(1, (await read.Json()).GetProperty("version").GetInt64());

        Assert.Equal(HttpStatusCode.PreconditionRequired, (await client.Write(HttpMethod.Put, path, changed, ifMatch: null)).StatusCode);
        var change = await client.Write(HttpMethod.Put, path, changed, key + " change", "\"1\"");
        Assert.Equal((HttpStatusCode.OK, "\"2\""), (change.StatusCode, change.Headers.ETag?.Tag));
        // The answer was lost: the same once more is the same, though the version moved on.
        var again = await client.Write(HttpMethod.Put, path, changed, key + " change", "\"1\"");
        Assert.Equal((HttpStatusCode.OK, "\"2\""), (again.StatusCode, again.Headers.ETag?.Tag));
        // Somebody who saw it before that is asked to look again, and changed nothing.
        var late = await client.Write(HttpMethod.Put, path, made, ifMatch: "\"1\"");
        Assert.Equal(HttpStatusCode.PreconditionFailed, late.StatusCode);
        Assert.Contains("stale", await late.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal("\"2\"", (await client.GetAsync(path)).Headers.ETag?.Tag);
        // The same key with another body is a mistake that is told.
        foreach (var (method, to, used) in new[] { (HttpMethod.Post, $"/api/{kind}", key), (HttpMethod.Put, path, key + " change") })
        {
            var another = kind == "people" ? """{ "name": "Another", "role": "rider" }""" : """{ "name": "Another" }""";
            var other = await client.Write(method, to, another, used);
            Assert.Equal(HttpStatusCode.Conflict, other.StatusCode);
            Assert.Contains("key-reused", await other.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        using var stranger = service.Client(RunningService.Theirs);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync(path)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.Write(HttpMethod.Put, path, changed)).StatusCode);
    }

    [Fact]
    public async Task The_audit_says_who_changed_which_details_and_not_what_they_are()
    {
        using var client = service.Client();
        var id = await Add(client, Details("Audited Owner"));
        var changed = new
        {
            name = "Audited Owner",
            phone = "030 55555",
            address = "9 Other Lane",
        };
        Assert.True((await client.Write(HttpMethod.Put, $"/api/people/{id}", changed)).IsSuccessStatusCode);
        // Saved as it is, nothing was changed.
        Assert.True((await client.Write(HttpMethod.Put, $"/api/people/{id}", changed)).IsSuccessStatusCode);

        var notes = await service
            .Services.GetRequiredService<BackHistory.Store.Audit.AuditBook>()
            .Notes(RunningService.Mine, null, null, 500, default);
        var about = notes.Where(n => n.About == id).OrderBy(n => n.At).ThenBy(n => n.What).ToList();
        Assert.Equal(["person-added ", "person-changed phone, address"], about.Select(n => $"{n.What} {n.Detail}"));
        Assert.All(about, n => Assert.NotNull(n.PersonId));
        Assert.DoesNotContain("030 55555", JsonSerializer.Serialize(about), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_that_made_a_calendar_address_makes_no_other_with_another_body()
    {
        using var client = service.Client();
        var key = Guid.NewGuid().ToString();
        var first = await client.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Visits" }, key);
        var again = await client.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Visits" }, key);
        Assert.Equal(HttpStatusCode.Created, first.StatusCode);
        // The address is sealed anew each time, and is of the same calendar.
        Assert.Equal((await first.Json()).GetProperty("id").GetGuid(), (await again.Json()).GetProperty("id").GetGuid());
        var other = await client.Write(HttpMethod.Post, "/api/calendar-feeds", new { name = "Other visits" }, key);
        Assert.Equal(HttpStatusCode.Conflict, other.StatusCode);
        Assert.Contains("key-reused", await other.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unsubscribe_is_a_change_that_a_form_which_was_open_before_is_told_of()
    {
        using var client = service.Client();
        var id = await Add(client, Details("Stops While Open"));
        var open = (await client.GetAsync($"/api/people/{id}")).Headers.ETag!.Tag;
        await Stop(id, LetterKind.OwnerCheck);
        var late = await client.Write(HttpMethod.Put, $"/api/people/{id}", Details("Stops While Open"), ifMatch: open);
        Assert.Equal(HttpStatusCode.PreconditionFailed, late.StatusCode);
        Assert.Equal([LetterKind.OwnerCheck], (await Load(id)).Stopped);
    }

    private PracticeQueries People => service.Services.GetRequiredService<PracticeQueries>();

    private static object Details(string name) =>
        new
        {
            name,
            email = "stops@people.invalid",
            phone = "030 99",
            address = "1 Long Lane",
            role = "owner",
            language = "de",
            timeZone = "Europe/Berlin",
        };

    private static async Task<Guid> Add(HttpClient client, object details, string? key = null)
    {
        var answer = await client.Write(HttpMethod.Post, "/api/people", details, key);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        return (await answer.Json()).GetProperty("id").GetGuid();
    }

    /// <summary>The one click of a mail program (RFC 8058) on the link in a letter.</summary>
    private async Task Stop(Guid person, LetterKind kind, string practice = RunningService.Mine)
    {
        var path = new Uri(service.Services.GetRequiredService<AnswerLinks>().Stop(practice, person, kind)).AbsolutePath;
        using var reader = service.Anonymous();
        using var click = new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")]);
        Assert.Equal(HttpStatusCode.OK, (await reader.PostAsync(path, click)).StatusCode);
    }

    private async Task<Person> Load(Guid id) => (await People.Person(RunningService.Mine, id, CancellationToken.None))!;

    private static async Task<(int Entered, int Already, int Refused)> Enter(HttpClient client, string table)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(table));
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/imports?name=people") { Content = content };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        var id = (await (await client.SendAsync(request)).Json()).GetProperty("id").GetGuid();
        var entering = await client.Write(
            HttpMethod.Post,
            $"/api/imports/{id}/enter",
            new { kind = "people", columns = new { name = "name", email = "email" } }
        );
        Assert.True(entering.IsSuccessStatusCode, await entering.Content.ReadAsStringAsync());
        for (var i = 0; ; i++)
        {
            var import = await client.GetFromJson($"/api/imports/{id}");
            if (import.GetProperty("state").GetString() == "entered" && import.GetProperty("counts") is var counts)
                return (Count(counts, "entered"), Count(counts, "already"), Count(counts, "refused"));
            Assert.True(i < 600, "the import was never entered");
            await Task.Delay(50);
        }
    }

    private static int Count(JsonElement counts, string of) => counts.GetProperty(of).GetInt32();
}
