using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text.Json;
using BackHistory.Application.Archives;
using BackHistory.Application.Evaluation;
using BackHistory.Application.Letters;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Events;

namespace BackHistory.Application.Tests.Archives;

/// <summary>An archive is taken in by one at a time, and until it is whole nothing is concluded from it and nobody is written to.</summary>
public sealed class ArchiveIntakeTests : IAsyncLifetime
{
    private readonly PracticeActs _acts = new();

    public ValueTask InitializeAsync() => _acts.InitializeAsync();

    public ValueTask DisposeAsync() => _acts.DisposeAsync();

    [Fact]
    public async Task The_same_archive_sent_by_four_at_once_is_taken_in_once_and_whole()
    {
        using var archive = await Archive("four from", horses: 12);
        var bytes = archive.ToArray();
        var answers = await Task.WhenAll(Enumerable.Range(0, 4).Select(n => Task.Run(() => Take("four to", bytes, $"take {n}"))));

        Assert.All(answers, a => Assert.True(a is null or "archive-at-work", $"answered {a}"));
        Assert.Contains(null, answers);
        Assert.Equal(Lines(bytes), (await Told("four to")).Count);
    }

    [Fact]
    public async Task Of_two_archives_sent_at_once_one_is_taken_in_and_nothing_of_the_other()
    {
        using var one = await Archive("one from", horses: 8);
        using var other = await Archive("other from", horses: 9);
        var answers = await Task.WhenAll(
            Task.Run(() => Take("either to", one.ToArray(), "one")),
            Task.Run(() => Take("either to", other.ToArray(), "other"))
        );

        Assert.Single(answers, a => a is null);
        Assert.Contains(answers.Single(a => a is not null), new[] { "not-empty", "archive-at-work" });
        var horses = await Horses("either to");
        Assert.Equal(answers[0] is null ? 8 : 9, horses.Count);
    }

    [Fact]
    public async Task Half_taken_in_nothing_is_concluded_and_nobody_written_to_until_the_archive_is_whole()
    {
        var from = await _acts.Found("half from");
        var owner = await from.Person("Robin Field", PersonRole.Owner);
        await from.NeverMeasured("Bramble", owner, _acts.Time.Now.AddDays(-300));
        await from.Yard.Horse(_acts.Time.Now.AddDays(-1), "Thistle", owner);
        using var archive = await Written(from.Name);
        var (hash, events) = (Convert.ToHexStringLower(SHA256.HashData(archive.ToArray())), Events(archive.ToArray()));
        const string To = "half to";
        var intake = _acts.Get<ArchiveIntake>();
        var reader = await _acts.Get<Store.Practices.PracticeQueries>().Person(from.Name, owner, default);
        await intake.Documents(To, hash, new ArchivedDocuments([reader!], [], [], [], [], []), default);
        await Assert.ThrowsAsync<IOException>(() => intake.Events(To, hash, BreaksOff(events[..^1]), default));

        await _acts.Store.CatchUp();
        Assert.False(await _acts.Get<PracticeEvaluation>().Run(To, default));
        await _acts.Get<LetterPost>().Send(To, default);
        Assert.Empty(_acts.Mail.Sent);
        foreach (var horse in await Horses(To))
            Assert.Null(await _acts.Store.Reminders.Assessment(To, horse, default));
        Assert.DoesNotContain(await Told(To), t => t.StartsWith("bulletin", StringComparison.Ordinal));

        // Sent once more it goes on where it broke off, and then the practice is looked at.
        Assert.Null(await Take(To, archive.ToArray(), "again"));
        Assert.Equal(events.Count, (await Told(To)).Count);
        await _acts.Store.CatchUp();
        await _acts.Get<PracticeEvaluation>().Run(To, default);
        foreach (var horse in await Horses(To))
            Assert.NotNull(await _acts.Store.Reminders.Assessment(To, horse, default));
    }

    private async Task<string?> Take(string practice, byte[] archive, string key)
    {
        using var file = new MemoryStream(archive);
        var by = new Caller(new(practice, Guid.Empty, key, "", null, _acts.Time.Now), PracticeRole.Administrator);
        return (await _acts.Get<TakeArchiveIn>().Do(new(file, Implausible: false), by, default))?.Code;
    }

    private async Task<MemoryStream> Archive(string practice, int horses)
    {
        var from = await _acts.Found(practice);
        for (var n = 0; n < horses; n++)
        {
            var horse = await from.Yard.Horse(_acts.Time.Now.AddDays(-30), $"Horse {n}");
            await from.Yard.Visit(horse, _acts.Time.Now.AddDays(-20), new WeightEntry(from.Yard.NewEntry(), 500 + n));
        }

        return await Written(practice);
    }

    private async Task<MemoryStream> Written(string practice)
    {
        await _acts.Store.CatchUp();
        var to = new MemoryStream();
        await _acts.Get<ArchiveWriter>().Write(practice, null, to, default);
        return to;
    }

    private Task<IReadOnlyList<Guid>> Horses(string practice) =>
        Rows<Guid>("select id from history.mt_doc_horse where tenant_id = $1 order by id", practice);

    private Task<IReadOnlyList<string>> Told(string practice) =>
        Rows<string>("select type from history.mt_events where tenant_id = $1 order by seq_id", practice);

    private async Task<IReadOnlyList<T>> Rows<T>(string sql, string practice)
    {
        var rows = new List<T>();
        await using var ask = _acts.Store.Database.CreateCommand(sql);
        ask.Parameters.Add(new Npgsql.NpgsqlParameter { Value = practice });
        await using var reader = await ask.ExecuteReaderAsync();
        while (await reader.ReadAsync())
            rows.Add(reader.GetFieldValue<T>(0));
        return rows;
    }

    private static int Lines(byte[] archive) => Events(archive).Count;

    private static List<ArchivedEvent> Events(byte[] archive)
    {
        using var zip = new ZipArchive(new MemoryStream(archive), ZipArchiveMode.Read);
        using var reader = new StreamReader(zip.GetEntry("events.jsonl")!.Open());
        return
        [
            .. reader
                .ReadToEnd()
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(l => JsonSerializer.Deserialize<ArchivedEvent>(l, StoredJson.Options())!),
        ];
    }

    private static async IAsyncEnumerable<ArchivedEvent> BreaksOff(
        IReadOnlyList<ArchivedEvent> events,
        [EnumeratorCancellation] CancellationToken ct = default
    )
    {
        foreach (var e in events)
        {
            await Task.Yield();
            ct.ThrowIfCancellationRequested();
            yield return e;
        }

        throw new IOException("The power went out.");
    }
}
