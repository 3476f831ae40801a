using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using BackHistory.Application.Archives;
using BackHistory.Application.Horses;
using BackHistory.Application.People;
using BackHistory.Application.Practices;
using BackHistory.Application.Tests.Practices;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Tests.Archives;

/// <summary>What a practice takes along when it leaves is what it arrives with.</summary>
public sealed class ArchiveRoundTripTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    /// <summary>Positions are of one store, and everything that a practice is besides its history is of that practice.</summary>
    private static readonly string[] OfItsOwn =
    [
        "events.jsonl",
        "tables/months.csv",
        "documents/audit.jsonl",
        "documents/findings.jsonl",
        "manifest.json",
    ];

    [Fact]
    public async Task An_archive_taken_into_an_empty_practice_is_written_out_there_as_it_came()
    {
        var from = await acts.Found("archive from");
        var owner = await from.Person("Robin Field", PersonRole.Owner);
        var horse = await from.Yard.Horse(acts.Time.Now.AddDays(-30), "Bramble", owner);
        var visit = await from.Yard.Visit(horse, acts.Time.Now.AddDays(-20), 45, 47);
        await from.Yard.Visit(horse, acts.Time.Now.AddDays(-10), new WeightEntry(from.Yard.NewEntry(), 512));
        await from.Yard.Set(await from.Yard.Saddle(acts.Time.Now.AddDays(-20)), horse, visit, acts.Time.Now.AddDays(-20));
        await from.Yard.Withdraw(horse, visit, acts.Time.Now.AddDays(-5));
        var manager = from.By(PracticeRole.Manager);
        await acts.Get<SetPracticeContact>().Do(new(new("12 Ford Lane", "01234", null), Samples.Picture, false), manager, default);
        await acts.Get<NoteConsent>()
            .Do(new(owner, ConsentKind.Sharing, false, null, "Over the gate."), from.By(PracticeRole.Fitter), default);
        await acts.Store.CatchUp();
        await acts.Get<IdentifyHorse>().Do(new(horse, "276098100123456", null), from.By(PracticeRole.Fitter), default);
        using var archive = await Written(from);
        const string To = "archive to";
        var by = new Caller(new(To, from.Id("administrator"), "take in", "", null, acts.Time.Now), PracticeRole.Administrator);

        Assert.Null(await acts.Get<TakeArchiveIn>().Do(new(archive, Implausible: false), by, default));

        Assert.Equal(["happened"], acts.Asked.For(To));
        using var again = await Written(new TestPractice(acts, To));
        var (before, after) = (Entries(archive), Entries(again));
        Assert.Equal(before.Keys, after.Keys);
        Assert.Contains(before.Keys, k => k.StartsWith("tracings/", StringComparison.Ordinal));
        foreach (var (name, text) in before.Where(e => !OfItsOwn.Contains(e.Key)))
            Assert.Equal(text, after[name]);
        (string, string)[] kept = [("contact", "12 Ford Lane"), ("people", "Over the gate."), ("identities", "276098100123456")];
        foreach (var (name, said) in kept)
            Assert.Contains(said, after[$"documents/{name}.jsonl"], StringComparison.Ordinal);
        Assert.Contains("Bramble", after["tables/horses.csv"], StringComparison.Ordinal);
        Assert.Equal(Told(before["events.jsonl"]), Told(after["events.jsonl"]));
        // Sent once more, it is in already; into a practice that has a history it does not go.
        Assert.Null(await acts.Get<TakeArchiveIn>().Do(new(archive, Implausible: false), by, default));
        var other = await acts.Found("archive not empty");
        await other.Yard.Horse(acts.Time.Now);
        var refused = await acts.Get<TakeArchiveIn>().Do(new(archive, false), other.By(PracticeRole.Administrator), default);
        Assert.Equal(ArchiveIntake.NotEmpty, refused);
    }

    [Fact]
    public async Task An_archive_of_one_horse_takes_nobody_along_whom_it_does_not_name()
    {
        var practice = await acts.Found("archive of one");
        var (mine, other) = (await practice.Person("Robin Field", PersonRole.Owner), await practice.Person("Kim Hill", PersonRole.Owner));
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Bramble", mine);
        await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Thistle", other);

        using var archive = await Written(practice, await acts.Get<ArchiveQueries>().ScopeOf(practice.Name, horse, default));

        var entries = Entries(archive);
        Assert.Contains("Robin Field", entries["documents/people.jsonl"], StringComparison.Ordinal);
        Assert.DoesNotContain("Kim Hill", string.Concat(entries.Values), StringComparison.Ordinal);
        Assert.DoesNotContain("Thistle", string.Concat(entries.Values), StringComparison.Ordinal);
    }

    [Fact]
    public void An_archives_audit_may_say_whatever_an_audit_says()
    {
        // A word that was added and not found here would refuse the archive of whoever it was said of.
        Assert.Contains(AuditWords.Saw, AuditWords.All);
        Assert.Contains(AuditWords.WebhookAdded, AuditWords.All);
        Assert.Equal(typeof(AuditWords).GetFields().Length, AuditWords.All.Count);
    }

    [Fact]
    public async Task What_is_no_archive_is_refused_and_nothing_of_it_is_kept()
    {
        using var noise = new MemoryStream(Encoding.UTF8.GetBytes("PK\u0003\u0004 and nothing more"));
        var by = new Caller(new("archive of noise", Guid.Empty, "take in", "", null, acts.Time.Now), PracticeRole.Administrator);

        Assert.Equal("unreadable", (await acts.Get<TakeArchiveIn>().Do(new(noise, false), by, default))!.Code);

        Assert.Empty(acts.Asked.For("archive of noise"));
        Assert.Null(await acts.Get<Store.Practices.PracticeQueries>().Load("archive of noise", default));
    }

    [Fact]
    public async Task A_person_who_was_added_beside_the_history_goes_along()
    {
        var from = await acts.Found("archive of people");
        var details = new PersonDetails("Robin Field", "robin@people.invalid", null, null, PersonRole.Owner, "de", null);
        Assert.Null((await acts.Get<AddPerson>().Do(new(from.Id("robin"), details), from.By(PracticeRole.Fitter), default)).Refused);
        using var archive = await Written(from);
        const string To = "archive of people to";
        var by = new Caller(new(To, Guid.Empty, "take in", "", null, acts.Time.Now), PracticeRole.Administrator);

        Assert.Null(await acts.Get<TakeArchiveIn>().Do(new(archive, false), by, default));

        var person = await acts.Get<Store.Practices.PracticeQueries>().Person(To, from.Id("robin"), default);
        Assert.Equal(("Robin Field", "de"), (person!.Name, person.Language));
    }

    private async Task<MemoryStream> Written(TestPractice practice, ArchiveScope? scope = null)
    {
        await acts.Store.CatchUp();
        var to = new MemoryStream();
        await acts.Get<ArchiveWriter>().Write(practice.Name, scope, to, default);
        to.Position = 0;
        return to;
    }

    private static SortedDictionary<string, string> Entries(MemoryStream archive)
    {
        using var zip = new ZipArchive(archive, ZipArchiveMode.Read, leaveOpen: true);
        var entries = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var entry in zip.Entries)
        {
            using var reader = new StreamReader(entry.Open());
            entries[entry.FullName] = reader.ReadToEnd();
        }

        archive.Position = 0;
        return entries;
    }

    /// <summary>What happened, in order, without where it lies in a store.</summary>
    private static List<string> Told(string events) =>
        [
            .. events
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(l => JsonNode.Parse(l)!.AsObject())
                .Select(e => $"{e["stream"]} {e["version"]} {e["type"]} {e["recordedAt"]} {e["data"]!.ToJsonString()}"),
        ];
}
