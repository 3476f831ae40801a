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
