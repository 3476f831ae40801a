using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Archives;

/// <summary>A practice takes everything out, and another takes it in.</summary>
public sealed class ArchiveTests(ArchiveTests.TwoPractices two) : IClassFixture<ArchiveTests.TwoPractices>
{
    [Fact]
    public async Task An_archive_taken_into_an_empty_practice_gives_the_same_archive_again()
    {
        using var from = two.Host.Client("from");
        using var to = two.Host.Client("to");
        var horse = await Live(from);
        await Followed();
        var taken = await Download(from, "/api/archive");
        Assert.Equal(HttpStatusCode.NoContent, (await Send(to, taken)).StatusCode);
        await Followed();
        var again = await Download(to, "/api/archive");

        var (first, second) = (Contents(taken), Contents(again));
        Assert.Equal(first.Keys.Order(StringComparer.Ordinal), second.Keys.Order(StringComparer.Ordinal));
        Assert.Contains(
            first.Keys,
            k => k.StartsWith($"tracings/{horse}/", StringComparison.Ordinal) && k.EndsWith(".svg", StringComparison.Ordinal)
        );
        Assert.Single(first.Keys, k => k.StartsWith("attachments/", StringComparison.Ordinal));
        // Who looked at what goes along: the horse's page by whoever asked, and the owner's link by whoever held it.
        foreach (var word in new[] { "\"what\":\"saw\"", "\"what\":\"link-opened\"", horse.ToString() })
            Assert.Contains(word, first["documents/audit.jsonl"], StringComparison.Ordinal);
        foreach (var (name, text) in first)
        {
            // The count goes with the lines, of which each has some of its own.
            if (name is "documents/findings.jsonl" or "manifest.json")
                continue;
            Assert.True(
                Same(name, Lasting(name, text)) == Same(name, Lasting(name, second[name])),
                $"{name} is another:\n{text}\n---\n{second[name]}"
            );
        }

        // Sent once more it is there already; another history is not mixed in.
        Assert.Equal(HttpStatusCode.NoContent, (await Send(to, taken)).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await Send(from, taken)).StatusCode);
        var events = Contents(await Download(to, "/api/archive"))["events.jsonl"];
        Assert.Equal(Same("events.jsonl", second["events.jsonl"]), Same("events.jsonl", events));
    }

    /// <summary>That it was taken out and in is on record where that was done.</summary>
    private static string Lasting(string name, string text) =>
        name != "documents/audit.jsonl"
            ? text
            : string.Join('\n', text.Split('\n').Where(l => !l.Contains("\"what\":\"archive-taken", StringComparison.Ordinal)));

    [Fact]
    public async Task Letters_that_an_archive_says_were_sent_are_nobodys_go_where_it_is_taken_in_and_go_on_where_they_were_sent()
    {
        // As a release had it that wrote letters before anybody was asked.
        using var older = two.Host.Client("older");
        using var newer = two.Host.Client("newer");
        var owner = await two.Host.Person("older", "Written To");
        var horse = await older.Horse("Written About", owner);
        var (commands, now) = (two.Host.Services.GetRequiredService<Commands>(), TestClock.Running.GetUtcNow());
        var (id, day) = (ReminderIds.IdFor("older", horse, null, ReminderRule.NoVisit, 0), ZoneClock.Day(now, TimeZoneInfo.Utc));
        var evidence = Evidence.WithoutMeasure(day, 1, day, "It has not been measured yet.");
        var letter = new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, owner), LetterKind.OwnerCheck, owner);
        foreach (
            var decide in (Func<Reminder?, Decided>[])
                [
                    r =>
                        ReminderDecider.Decide(
                            r,
                            new RaiseReminder(id, horse, null, ReminderRule.NoVisit, evidence, [letter], Guid.Empty),
                            now
                        ),
                    r =>
                        ReminderDecider.Decide(
                            r,
                            new NoteLetterSent(letter.LetterId, "<1@backhistory.invalid>", "folder", Guid.Empty),
                            now
                        ),
                ]
        )
        {
            var done = await commands.Execute<Reminder>(
                new CommandContext("older", Guid.Empty, Guid.NewGuid().ToString(), "", null, now),
                id,
                decide,
                CancellationToken.None
            );
            Assert.Null(done.Refused);
        }

        await Followed();
        var taken = await Download(older, "/api/archive");
        Assert.Contains("letter_sent", Contents(taken)["events.jsonl"], StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NoContent, (await Send(newer, taken)).StatusCode);
        await Followed();

        Assert.True((await (await older.GetAsync("/api/letters/first")).Json()).GetProperty("released").GetBoolean());
        Assert.False((await (await newer.GetAsync("/api/letters/first")).Json()).GetProperty("released").GetBoolean());
        Assert.Equal(HttpStatusCode.NoContent, (await Send(newer, taken)).StatusCode);
        Assert.False((await (await newer.GetAsync("/api/letters/first")).Json()).GetProperty("released").GetBoolean());
    }

    [Fact]
    public async Task A_horses_archive_holds_that_horse_and_nobody_elses()
    {
        using var from = two.Host.Client("from");
        var (mine, other) = (await from.Horse("Goes Out"), await from.Horse("Stays Here"));
        await Followed();
        var contents = Contents(await Download(from, $"/api/horses/{mine}/archive"));
        Assert.Contains("Goes Out", contents["tables/horses.csv"], StringComparison.Ordinal);
        Assert.DoesNotContain(
            contents.Values,
            c => c.Contains("Stays Here", StringComparison.Ordinal) || c.Contains(other.ToString(), StringComparison.Ordinal)
        );
        Assert.Equal(HttpStatusCode.NotFound, (await from.GetAsync($"/api/horses/{Guid.NewGuid()}/archive")).StatusCode);
    }

    [Fact]
    public async Task What_is_no_archive_is_refused_in_words()
    {
        using var to = two.Host.Client("empty");
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
            archive.CreateEntry("hello.txt");
        var lines = new[] { """{"not":"an event"}""", "{", """{"position":1}""", """{"position":1,"type":"weighed"}""" };
        foreach (var bytes in (byte[][])["no zip"u8.ToArray(), zip.ToArray(), .. lines.Select(Events)])
            Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Send(to, bytes)).StatusCode);
    }

    [Fact]
    public async Task An_archive_of_nothing_but_empty_lines_is_refused_without_being_read_to_its_end()
    {
        using var to = two.Host.Client("empty");
        byte[] Blank(int length, CompressionLevel level)
        {
            var zip = new MemoryStream();
            using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
            {
                using var events = archive.CreateEntry("events.jsonl", level).Open();
                events.Write([.. Enumerable.Repeat((byte)'\n', length)]);
            }

            return zip.ToArray();
        }

        // A few are a slip of a hand, and this practice stays empty.
        var packed = await Send(to, Blank(60_000_000, CompressionLevel.Optimal));
        Assert.Equal("unpacks-too-large", (await packed.Json()).GetProperty("code").GetString());
        var plain = await Send(to, Blank(600_000, CompressionLevel.NoCompression));
        Assert.Equal("unreadable", (await plain.Json()).GetProperty("code").GetString());
    }

    [Fact]
    public async Task The_audit_of_an_archive_is_the_audit_of_the_practice_that_took_it_in()
    {
        using var told = two.Host.Client("told");
        var (note, horse) = (Guid.NewGuid(), Guid.NewGuid());
        var line =
            $$"""{"id":"{{note}}","at":"2026-05-01T10:00:00+00:00","what":"link-opened","personId":null"""
            + $$""","horseId":"{{horse}}","detail":"page, Firefox on Android"}""";
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in new[] { ("events.jsonl", ""), ("documents/audit.jsonl", line + "\n") })
            {
                using var writer = new StreamWriter(archive.CreateEntry(name).Open());
                writer.Write(text);
            }
        }

        Assert.Equal(HttpStatusCode.NoContent, (await Send(told, zip.ToArray())).StatusCode);
        var seen = (await (await told.GetAsync($"/api/audit/seen?horseId={horse}")).Json()).GetProperty("items");
        Assert.Equal(note, Assert.Single(seen.EnumerateArray()).GetProperty("id").GetGuid());
        Assert.Contains(note.ToString(), Contents(await Download(told, "/api/archive"))["documents/audit.jsonl"], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("documents/people.jsonl", "Olga\\u0000")]
    [InlineData("documents/notes.jsonl", "\\ud800")]
    [InlineData("documents/audit.jsonl", "page\\u0000")]
    public async Task A_document_of_an_archive_whose_text_cannot_be_kept_is_refused_with_its_line(string name, string text)
    {
        using var empty = two.Host.Client("empty");
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            var document = $$"""{"id":"{{Guid.NewGuid()}}","name":"{{text}}","words":"{{text}}","detail":"{{text}}"}""";
            foreach (var (entry, lines) in new[] { ("events.jsonl", ""), (name, $"\n{document}\n") })
            {
                using var writer = new StreamWriter(archive.CreateEntry(entry).Open());
                writer.Write(lines);
            }
        }

        var refused = await Send(empty, zip.ToArray());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains($"line 2 of {name}", (await refused.Json()).GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_line_that_unpacks_without_end_is_refused_before_it_is_read()
    {
        using var empty = two.Host.Client("empty");
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var endless = archive.CreateEntry("events.jsonl", CompressionLevel.SmallestSize).Open();
            var blank = Enumerable.Repeat((byte)' ', 1 << 20).ToArray();
            for (var i = 0; i < 400; i++)
                endless.Write(blank);
        }

        Assert.True(zip.Length < 1 << 20, $"the archive is {zip.Length} bytes");
        var before = GC.GetTotalAllocatedBytes();
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Send(empty, zip.ToArray())).StatusCode);
        // Unpacked as letters it would be 800 MB and more.
        Assert.True(
            GC.GetTotalAllocatedBytes() - before < 300 << 20,
            $"refusing it took {(GC.GetTotalAllocatedBytes() - before) >> 20} MB"
        );
    }

    private static byte[] Events(string line)
    {
        var zip = new MemoryStream();
        using (var archive = new ZipArchive(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var writer = new StreamWriter(archive.CreateEntry("events.jsonl").Open());
            writer.WriteLine(line);
        }

        return zip.ToArray();
    }

    private static async Task<Guid> Live(HttpClient client)
    {
        var owner = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    "/api/people",
                    new
                    {
                        name = "Olga Example",
                        role = "owner",
                        email = "olga@example.invalid",
                    }
                )
            ).Json()
        ).GetProperty("id").GetGuid();
        var horse = await client.Horse("=Formula Horse", owner);
        var visit = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits",
                    new
                    {
                        takenAt = "2026-05-01T10:00:00+02:00",
                        method = "flexible-curve",
                        entries = new[] { ClientExtensions.Section(45, 44) },
                    }
                )
            ).Json()
        ).GetProperty("visitId").GetGuid();
        var wrong = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits",
                    new
                    {
                        takenAt = "2026-05-02T10:00:00Z",
                        method = "flexible-curve",
                        entries = new[]
                        {
                            new
                            {
                                kind = "weight",
                                value = 520,
                                unit = "kg",
                            },
                        },
                    }
                )
            ).Json()
        ).GetProperty("visitId").GetGuid();
        Ok(await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits/{wrong}/withdraw", new { reason = "Another horse." }));
        Ok(
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/care",
                new
                {
                    kind = "illness",
                    from = "2026-04-01",
                    words = "Coughed.",
                }
            )
        );
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "17" })).Json()).GetProperty("id").GetGuid();
        Ok(
            await client.Write(
                HttpMethod.Post,
                $"/api/saddles/{saddle}/work",
                new
                {
                    kind = "set",
                    horseId = horse,
                    visitId = visit,
                    takenAt = "2026-05-01T11:00:00Z",
                    fresh = true,
                    done = new[]
                    {
                        new
                        {
                            part = "tree",
                            from = "3",
                            to = "4",
                        },
                    },
                }
            )
        );
        using var photo = new HttpRequestMessage(HttpMethod.Post, $"/api/horses/{horse}/files?kind=photograph")
        {
            Content = new ByteArrayContent(Picture.Jpeg(4000, 3000, 1, 2, 3)),
        };
        photo.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        photo.Headers.TryAddWithoutValidation("Idempotency-Key", "photo");
        photo.Headers.TryAddWithoutValidation("If-Match", "*");
        Ok(await client.SendAsync(photo));
        Ok(await client.GetAsync($"/api/horses/{horse}"));
        var link = await (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "owner" })).Json();
        using var reader = new HttpClient { BaseAddress = client.BaseAddress };
        Ok(await reader.GetAsync(new Uri(link.GetProperty("url").GetString()!).AbsolutePath));
        return horse;
    }

    private static void Ok(HttpResponseMessage response) =>
        Assert.True(response.IsSuccessStatusCode, $"{response.StatusCode} {response.Content.ReadAsStringAsync().Result}");

    private async Task Followed()
    {
        var progress = two.Host.Services.GetRequiredService<Progress>();
        Assert.True(
            await progress.Wait(
                await progress.Last(CancellationToken.None),
                TimeSpan.FromMinutes(2),
                TimeProvider.System,
                CancellationToken.None
            )
        );
    }

    /// <summary>Where it lies is another practice.</summary>
    private static string Same(string name, string text)
    {
        var practices = (from: History.DeterministicId.From("practice", "from"), to: History.DeterministicId.From("practice", "to"));
        var moved = text.Replace(practices.to.ToString(), practices.from.ToString(), StringComparison.Ordinal);
        // Each was founded at its own moment, has an administrator of its own, and writes to that one: places in the whole shift.
        if (name == "events.jsonl")
            moved = string.Join(
                '\n',
                moved
                    .Split('\n')
                    .Where(l => !l.Contains("\"of\":\"bulletin\"", StringComparison.Ordinal))
                    .Select(l => l.Length == 0 ? l : l[l.IndexOf(",\"id\"", StringComparison.Ordinal)..])
            );
        if (name == "tables/months.csv")
            moved = string.Join('\n', moved.Split('\n').Where(l => !l.Contains(",bulletin_", StringComparison.Ordinal)));
        return string.Join(
            '\n',
            moved
                .Split('\n')
                .Where(l =>
                    !l.Contains("practice_founded", StringComparison.Ordinal) && !l.Contains("Administrator", StringComparison.Ordinal)
                )
        );
    }

    private static async Task<byte[]> Download(HttpClient client, string path)
    {
        var response = await client.GetAsync(path);
        Assert.True(response.IsSuccessStatusCode, $"{path}: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
        return await response.Content.ReadAsByteArrayAsync();
    }

    private static async Task<HttpResponseMessage> Send(HttpClient client, byte[] zip)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/archive") { Content = new ByteArrayContent(zip) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        return await client.SendAsync(request);
    }

    private static Dictionary<string, string> Contents(byte[] zip)
    {
        using var archive = new ZipArchive(new MemoryStream(zip));
        return archive.Entries.ToDictionary(e => e.FullName, e => new StreamReader(e.Open()).ReadToEnd(), StringComparer.Ordinal);
    }

    /// <summary>A service of its own, whose practices nobody else's tests write to.</summary>
    public sealed class TwoPractices : IAsyncLifetime
    {
        private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-archive-");

        public ServedHost Host { get; private set; } = null!;

        public async ValueTask InitializeAsync()
        {
            Host = await ServedHost.Start(await TestServer.NewDatabase(), _state.FullName, "from");
            // As new as a practice can be: whoever takes an archive in has decided nothing yet.
            foreach (var practice in new[] { "to", "empty", "told", "older", "newer" })
                await Host.Found(practice, lettersLeave: false);
        }

        public async ValueTask DisposeAsync()
        {
            await Host.DisposeAsync();
            _state.Delete(recursive: true);
        }
    }
}
