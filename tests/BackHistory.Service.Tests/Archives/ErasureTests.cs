using System.Net;
using System.Text;
using System.Text.Json;
using BackHistory.History.Reminders;
using BackHistory.Service.Tests.Reminders;
using BackHistory.Store.Accounts;
using BackHistory.Store.Erasing;
using BackHistory.Store.Practices;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Archives;

/// <summary>Erasing one person of one practice touches nobody else: not by a word, and not by an address that two share.</summary>
public sealed class ErasureTests(RunningService service)
{
    [Fact]
    public async Task Erasing_Ann_leaves_the_note_that_says_cannot_and_offers_the_one_that_names_her()
    {
        using var client = service.Client(RunningService.Theirs);
        var (ann, horse) = (await Add(client, "Ann"), await client.Horse("Lame This Spring"));
        var cannot = await Note(client, horse, "Veterinary: cannot be ridden before May, the planned annual look is put off.");
        var names = await Note(client, horse, "Called ANN, who had seen it stumble.");
        var about = await Note(client, horse, "Was away for an operation.", ann);

        var erased = await Erase(client, ann);
        // The page follows a moment later.
        var words = await Given.Wait(async () => await Words(client, horse) is { Count: 3 } all ? all : null);
        Assert.Equal("Veterinary: cannot be ridden before May, the planned annual look is put off.", words[cannot]);
        Assert.Equal("Called ANN, who had seen it stumble.", words[names]);
        Assert.Null(words[about]);
        Assert.Equal(1, erased.GetProperty("notes").GetInt32());

        // What was left is listed with its place and its reason, and only what names her as a whole word.
        var left = erased.GetProperty("left").EnumerateArray().ToList();
        Assert.All(left, l => Assert.False(string.IsNullOrWhiteSpace(l.GetProperty("why").GetString())));
        var offered = Assert.Single(left, l => l.GetProperty("kind").GetString() == "note" && l.GetProperty("horseId").GetGuid() == horse);
        Assert.Equal(
            (names, "Called ANN, who had seen it stumble."),
            (offered.GetProperty("id").GetGuid(), offered.GetProperty("words").GetString())
        );
    }

    [Fact]
    public async Task Erasing_a_person_leaves_the_letters_of_another_practice_that_go_to_the_same_address()
    {
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        var (ours, other) = (
            await service.Told(mine, "Told In One Practice"),
            await service.Told(theirs, "Told In Another Practice", RunningService.Theirs)
        );
        var (letter, foreign) = (ours.Post.Single(l => l.State == LetterState.Sent), other.Post.Single(l => l.State == LetterState.Sent));
        // One human, known to both.
        var address = (await People.Person(RunningService.Theirs, foreign.To, CancellationToken.None))!.Email;
        await mine.Write(HttpMethod.Put, $"/api/people/{letter.To}", new { name = "Owner of Told In One Practice", email = address });
        var (here, there) = (FileOf(letter.LetterId), FileOf(foreign.LetterId));
        Assert.True(File.Exists(here) && File.Exists(there));
        var unread = Path.Combine(service.MailFolder, "not-a-letter-of-anybody.eml");
        await File.WriteAllTextAsync(unread, $"To: <{address}>\r\n\r\nNobody knows whose this is.");

        var erased = await Erase(mine, letter.To);
        Assert.Equal((false, true, true), (File.Exists(here), File.Exists(there), File.Exists(unread)));
        Assert.Equal((1, 1), (erased.GetProperty("letters").GetInt32(), erased.GetProperty("letterFiles").GetInt32()));
        Assert.Null(await service.Queries().Content(RunningService.Mine, letter.LetterId, CancellationToken.None));
        Assert.NotNull(await service.Queries().Content(RunningService.Theirs, foreign.LetterId, CancellationToken.None));
        Assert.NotNull(await People.Person(RunningService.Theirs, foreign.To, CancellationToken.None));
    }

    [Fact]
    public async Task Erasing_somebody_who_works_in_two_practices_takes_their_sign_in_to_this_one_only()
    {
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        var member = await service.Member(
            "Works In Two",
            (RunningService.Mine, PracticeRole.Fitter),
            (RunningService.Theirs, PracticeRole.Fitter)
        );
        using var browser = await service.SignedIn(member);
        using var here = await service.Client(member, RunningService.Mine);
        using var there = await service.Client(member, RunningService.Theirs);
        var accounts = service.Services.GetRequiredService<AccountDocuments>();
        // Sight of a horse here that was given to somebody else's name, and of one there.
        var (elses, elsewhere) = (
            new HeldGrant(RunningService.Mine, Guid.NewGuid(), Guid.NewGuid()),
            new HeldGrant(RunningService.Theirs, Guid.NewGuid(), Guid.NewGuid())
        );
        await accounts.Change(member.AccountId, a => a.Shared = [elses, elsewhere], CancellationToken.None);

        var erased = await Erase(mine, member.PersonId);
        Assert.True(erased.GetProperty("signIn").GetBoolean());
        Assert.Equal(HttpStatusCode.Unauthorized, (await here.GetAsync("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await there.GetAsync("/api/horses")).StatusCode);
        var account = (await accounts.Load(member.AccountId, CancellationToken.None))!;
        Assert.Equal(RunningService.Theirs, Assert.Single(account.Memberships).Practice);
        Assert.Equal([elses, elsewhere], account.Shared);
        // Signed in as before, for the other practice.
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/api/horses")).StatusCode);

        // Nothing is left of it when the other practice and those who shared take theirs back too.
        await accounts.Change(member.AccountId, a => a.Shared = [], CancellationToken.None);
        await Erase(theirs, account.Memberships[0].PersonId);
        Assert.Null(await accounts.Load(member.AccountId, CancellationToken.None));
        Assert.Equal(HttpStatusCode.Unauthorized, (await there.GetAsync("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task Erasing_somebody_who_was_let_see_a_horse_ends_that_sight_and_no_other()
    {
        using var client = service.Client();
        var horse = await client.Horse("Seen By Two");
        var (seer, stays) = (await Add(client, "Seer Who Goes"), await Add(client, "Seer Who Stays"));
        var account = await service.Member("Sees As Two");
        var held = new List<HeldGrant>();
        foreach (var person in new[] { seer, stays })
        {
            await client.Write(HttpMethod.Put, $"/api/people/{person}", new { name = "Seer", email = $"{person:N}@people.invalid" });
            var given = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/sharing/grants",
                new { personId = person, role = "veterinarian" }
            );
            Assert.True(given.IsSuccessStatusCode, await given.Content.ReadAsStringAsync());
            var grants = (await client.GetFromJson($"/api/horses/{horse}/sharing")).GetProperty("grants").EnumerateArray();
            held.Add(
                new HeldGrant(
                    RunningService.Mine,
                    horse,
                    grants.Single(g => g.GetProperty("personId").GetGuid() == person).GetProperty("id").GetGuid()
                )
            );
        }

        var accounts = service.Services.GetRequiredService<AccountDocuments>();
        await accounts.Change(account.AccountId, a => a.Shared = [.. held], CancellationToken.None);
        await Erase(client, seer);
        Assert.Equal([held[1]], (await accounts.Load(account.AccountId, CancellationToken.None))!.Shared);
    }

    [Fact]
    public async Task An_invitation_goes_with_whom_it_was_for_and_one_of_another_practice_to_the_same_address_stays()
    {
        var address = $"invited.{Guid.NewGuid():N}@members.invalid";
        var letters = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var practice in new[] { RunningService.Mine, RunningService.Theirs })
        {
            using var browser = await service.SignedIn(
                await service.Member($"Invites Into {practice}", (practice, PracticeRole.Administrator))
            );
            await browser.Send(
                "/practice/members",
                "/practice/members/invite",
                ("name", $"Invited By {practice}"),
                ("email", address),
                ("role", "Fitter"),
                ("language", "en")
            );
            letters[practice] = await Given.Wait(() => Task.FromResult(FilesTo(address).FirstOrDefault(f => !letters.ContainsValue(f))));
        }

        using var mine = service.Client();
        var invited = (await People.PersonByEmail(RunningService.Mine, address, CancellationToken.None))!;
        var erased = await Erase(mine, invited.Id);
        Assert.Equal(1, erased.GetProperty("letterFiles").GetInt32());
        Assert.Equal([letters[RunningService.Theirs]], FilesTo(address));
        Assert.NotNull(await People.PersonByEmail(RunningService.Theirs, address, CancellationToken.None));
        Assert.Contains(
            await service.Services.GetRequiredService<Invitations>().Open(RunningService.Theirs, CancellationToken.None),
            i => i.Email == address
        );
    }

    [Fact]
    public async Task A_table_that_waits_is_left_to_whoever_sent_it_in_and_is_told_of_where_it_names_the_person()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..8];
        var person = await Add(client, $"Lou {mark}");
        var (others, naming) = (
            await SendIn(client, "Who\nSomebody Else\n"),
            await SendIn(client, $"Who,Note\nSomebody Else,\nLou {mark},\n,told by lou {mark} today\n")
        );
        var erased = await Erase(client, person);
        var told = Assert.Single(erased.GetProperty("left").EnumerateArray(), l => l.GetProperty("kind").GetString() == "table");
        Assert.Equal(naming, told.GetProperty("id").GetGuid());
        Assert.Contains("lines 3, 4", told.GetProperty("words").GetString(), StringComparison.Ordinal);
        foreach (var table in new[] { others, naming })
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/imports/{table}")).StatusCode);

        // What it says to do can be done.
        Assert.Equal(
            HttpStatusCode.NoContent,
            (await client.Write(HttpMethod.Post, $"/api/imports/{naming}/take-back", new { })).StatusCode
        );
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/api/imports/{naming}")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/imports/{others}")).StatusCode);
    }

    [Fact]
    public async Task What_an_erasure_left_is_told_again_when_it_is_asked_again_until_somebody_saw_to_it()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..8];
        var (name, horse) = ($"Zoe {mark}", await client.Horse($"Named {mark}"));
        var person = await Add(client, name);
        var note = await Note(client, horse, $"Called {name}, who had seen it stumble.");
        var other = await Note(client, horse, $"And {name} again.");
        var table = await SendIn(client, $"Who\n{name}\n");
        await client.Write(
            HttpMethod.Put,
            $"/api/horses/{horse}",
            new
            {
                name = $"Named {mark}",
                foaled = "2015-05-01",
                reason = $"{name} knew the year.",
            }
        );
        var first = Told(await Erase(client, person));
        Assert.Equal(3, first.Left.Count);
        Assert.Contains(first.StillFound, f => f.StartsWith("history.mt_events", StringComparison.Ordinal));
        var second = await Erase(client, person);
        Assert.Equal(first.Left, Told(second).Left);
        Assert.Equal(first.StillFound, Told(second).StillFound);
        Assert.Contains(
            $"Called {name}, who had seen it stumble.",
            second.GetProperty("left").EnumerateArray().Select(l => l.GetProperty("words").GetString())
        );
        // Nothing that was kept for it says the name.
        await using (var connection = await service.Database().OpenConnectionAsync())
            Assert.DoesNotContain(
                await NameSearch.Everywhere(connection, mark, CancellationToken.None),
                f => f.Table.Contains("remainder", StringComparison.Ordinal)
            );

        await client.Write(HttpMethod.Post, $"/api/imports/{table}/take-back", new { });
        var corrected = await client.Write(
            HttpMethod.Put,
            $"/api/horses/{horse}/care/{note}",
            new
            {
                kind = "veterinary",
                from = "2026-04-01",
                words = "Called somebody who had seen it stumble.",
                reason = "Names a person.",
            }
        );
        Assert.True(corrected.IsSuccessStatusCode, await corrected.Content.ReadAsStringAsync());
        var third = Told(await Erase(client, person));
        Assert.Equal([$"note {other}"], third.Left);
    }

    [Fact]
    public async Task A_link_that_was_made_for_whoever_was_erased_opens_nothing_any_more_and_anothers_opens_as_before()
    {
        using var client = service.Client();
        var horse = await client.Horse("Linked To Two");
        var (goes, stays) = (await Add(client, "Link Reader Who Goes"), await Add(client, "Link Reader Who Stays"));
        var paths = new List<string>();
        foreach (var person in new[] { goes, stays })
        {
            var made = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/sharing/links",
                new { role = "physiotherapist", personId = person }
            );
            Assert.Equal(HttpStatusCode.Created, made.StatusCode);
            paths.Add(new Uri((await made.Json()).GetProperty("url").GetString()!).AbsolutePath);
        }

        using var reader = service.Browser();
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(paths[0])).StatusCode);
        var erased = await Erase(client, goes);
        Assert.Equal(HttpStatusCode.Gone, (await reader.Get(paths[0])).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(paths[1])).StatusCode);
        Assert.Empty(erased.GetProperty("left").EnumerateArray());
    }

    [Fact]
    public async Task An_owner_who_had_nothing_but_a_grant_loses_account_and_sight()
    {
        using var client = service.Client();
        var (horse, owner) = (await client.Horse("Seen By Its Owner"), await Add(client, "Owner With A Grant"));
        var address = $"{owner:N}@owners.invalid";
        await client.Write(HttpMethod.Put, $"/api/people/{owner}", new { name = "Owner With A Grant", email = address });
        var given = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/sharing/grants",
            new { personId = owner, role = "veterinarian" }
        );
        Assert.True(given.IsSuccessStatusCode, await given.Content.ReadAsStringAsync());
        var letter = await Given.Wait(() => Task.FromResult(FilesTo(address).FirstOrDefault()));
        var text = MimeKit.MimeMessage.Load(letter).TextBody!;
        var welcome = new Uri(text[text.IndexOf("http", StringComparison.Ordinal)..].Split('\n', ' ')[0].Trim()).AbsolutePath;
        using var browser = service.Browser();
        await browser.Send(welcome, welcome, ("password", "sixteen spotted horses"));
        await browser.SignIn(address, "sixteen spotted horses");
        Assert.Contains("Seen By Its Owner", await browser.Page("/shared-with-me"), StringComparison.Ordinal);

        Assert.True((await Erase(client, owner)).GetProperty("signIn").GetBoolean());
        Assert.StartsWith("/sign-in", $"{(await browser.Get("/shared-with-me")).Headers.Location}", StringComparison.Ordinal);
        using var again = service.Browser();
        var tried = await again.Send("/sign-in", "/sign-in", ("email", address), ("password", "sixteen spotted horses"));
        Assert.Equal("/sign-in?failed=1", tried.Headers.Location!.ToString());
        Assert.Null(
            await service.Services.GetRequiredService<AccountDocuments>().ByEmail(address.ToUpperInvariant(), CancellationToken.None)
        );
        Assert.False(File.Exists(letter));
    }

    private static (List<string> Left, List<string> StillFound) Told(JsonElement erased) =>
        (
            [
                .. erased
                    .GetProperty("left")
                    .EnumerateArray()
                    .Select(l => $"{l.GetProperty("kind").GetString()} {l.GetProperty("id").GetGuid()}")
                    .Order(StringComparer.Ordinal),
            ],
            [
                .. erased
                    .GetProperty("stillFound")
                    .EnumerateArray()
                    .Select(f => $"{f.GetProperty("table").GetString()} {f.GetProperty("rows").GetInt64()}"),
            ]
        );

    private PracticeQueries People => service.Services.GetRequiredService<PracticeQueries>();

    private string FileOf(Guid letter) => Path.Combine(service.MailFolder, $"{letter:N}.eml");

    private List<string> FilesTo(string address) =>
        Directory.Exists(service.MailFolder)
            ?
            [
                .. Directory
                    .GetFiles(service.MailFolder, "*.eml")
                    .Where(f => File.ReadAllText(f).Contains($"To: {address}", StringComparison.Ordinal)),
            ]
            : [];

    private static async Task<Guid> Add(HttpClient client, string name) =>
        (await (await client.Write(HttpMethod.Post, "/api/people", new { name, role = "owner" })).Json()).GetProperty("id").GetGuid();

    private static async Task<Guid> Note(HttpClient client, Guid horse, string words, params Guid[] about) => (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/care",
                    new
                    {
                        kind = "veterinary",
                        from = "2026-04-01",
                        words,
                        about,
                    }
                )
            ).Json()
        ).GetProperty("made").GetGuid();

    /// <summary>What the notes of a horse say, by their ids; null where a note says nothing any more.</summary>
    private static async Task<Dictionary<Guid, string?>> Words(HttpClient client, Guid horse)
    {
        using var answer = await client.GetAsync($"/api/horses/{horse}/care");
        if (!answer.IsSuccessStatusCode)
            return [];
        return (await answer.Json())
            .EnumerateArray()
            .ToDictionary(n => n.GetProperty("noteId").GetGuid(), n => n.TryGetProperty("words", out var w) ? w.GetString() : null);
    }

    private static async Task<JsonElement> Erase(HttpClient client, Guid person)
    {
        var answer = await client.Write(HttpMethod.Post, $"/api/people/{person}/erase", new { });
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return await answer.Json();
    }

    private static async Task<Guid> SendIn(HttpClient client, string table)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(table));
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/imports?name=waiting") { Content = content };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        return (await (await client.SendAsync(request)).Json()).GetProperty("id").GetGuid();
    }
}
