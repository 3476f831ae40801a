using System.Collections.Immutable;
using System.IO.Compression;
using System.Net;
using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Store;
using BackHistory.Store.Rebuilds;
using BackHistory.Testing;
using Marten;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>
/// Events that no door would let in today and that are in the history all the same: from an older release, from an archive, or for a fault
/// of ours. What cannot be computed from them is set aside where it belongs, and everything else goes on.
/// </summary>
public sealed class SetAsideTests(SeparatePractices practices) : IClassFixture<SeparatePractices>
{
    private const string NotWhole = "Not everything of this horse could be worked out";

    private static readonly DateTimeOffset June = new(2026, 6, 12, 10, 0, 0, TimeSpan.Zero);

    private static readonly ImmutableDictionary<string, Point> NoMarks = ImmutableDictionary<string, Point>.Empty;

    /// <summary>Its flags come out as infinite lengths, which no JSON holds.</summary>
    private static readonly ImmutableDictionary<string, Point> Wild = ImmutableDictionary<string, Point>
        .Empty.Add("shoulder", new(1e308, 0))
        .Add("behind-shoulder", new(-1e308, -8))
        .Add("last-rib", new(450, 0));

    [Fact]
    public async Task A_tracing_of_an_older_release_that_cannot_be_measured_is_set_aside_and_shown_and_everything_else_is_read_on()
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse("Set Aside");
        var (visit, wild, good) = (Guid.NewGuid(), Guid.NewGuid(), Guid.NewGuid());
        var section = Backs.Section(45, 41);
        await AroundTheDoor(
            horse,
            new VisitRecorded(visit, new VisitConditions(), "flexible-curve", 1, June, Guid.Empty),
            new ToplineTraced(visit, wild, Backs.Topline(20).Points, null, Wild, false, 1, June, Guid.Empty),
            new CrossSectionTraced(visit, good, "behind-shoulder", section.Points, null, null, NoMarks, 0, June, Guid.Empty)
        );
        await practices.NeighbourGoesOn();

        var read = (await client.GetFromJson($"/api/horses/{horse}/visits"))[0].GetProperty("entries");
        var entries = read.EnumerateArray().ToDictionary(e => e.GetProperty("entryId").GetGuid());
        Assert.False(entries[wild].GetProperty("stands").GetBoolean());
        const string Why = "It could not be measured: A place lies more than 1000 m from the origin of its sheet. Is this in millimetres?";
        Assert.Equal(Why, entries[wild].GetProperty("setAside").GetString());
        Assert.True(entries[good].GetProperty("stands").GetBoolean());
        var slope = entries[good].GetProperty("measures").EnumerateArray().Single(m => m.GetProperty("key").GetString() == "slope-left");
        Assert.Equal(45, slope.GetProperty("value").GetDouble(), 0.5);

        // Said wherever somebody looks.
        var of = Assert.Single((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        Assert.Equal("topline_traced", of.GetProperty("what").GetString());
        Assert.Equal(visit, of.GetProperty("visitId").GetGuid());
        bool OfThisHorse(JsonElement aside) => aside.GetProperty("horseId").GetGuid() == horse;
        Assert.Contains((await client.GetFromJson("/api/audit/set-aside")).EnumerateArray(), OfThisHorse);
        Assert.Contains((await client.GetFromJson("/api/read-models")).GetProperty("setAside").EnumerateArray(), OfThisHorse);
        Assert.Contains(NotWhole, await client.GetStringAsync($"/horses/{horse}"), StringComparison.Ordinal);
        Assert.Contains("Set Aside", await client.GetStringAsync("/practice/audit?show=set-aside"), StringComparison.Ordinal);
        using var neighbour = practices.Host.Client(SeparatePractices.Neighbour);
        Assert.Empty((await neighbour.GetFromJson("/api/audit/set-aside")).EnumerateArray());
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready")).StatusCode);

        // Whoever knows what was meant withdraws it, and the horse is whole.
        var withdraw = $"/api/horses/{horse}/visits/{visit}/entries/{wild}/withdraw";
        var withdrawn = await client.Write(HttpMethod.Post, withdraw, new { reason = "Marks of another sheet." });
        Assert.True(withdrawn.IsSuccessStatusCode, await withdrawn.Content.ReadAsStringAsync());
        await practices.Followed();
        Assert.Empty((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        Assert.DoesNotContain(NotWhole, await client.GetStringAsync($"/horses/{horse}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_event_on_which_our_own_computation_breaks_is_set_aside_in_its_horse_and_stops_nobody()
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse("Broken Fold");
        var visit = Guid.NewGuid();
        // No release ever wrote a tracing without points: what follows from it is a fault of the computation.
        await AroundTheDoor(
            horse,
            new VisitRecorded(visit, new VisitConditions(), "flexible-curve", 1, June, Guid.Empty),
            new CrossSectionTraced(visit, Guid.NewGuid(), "behind-shoulder", null!, null, null, null!, 0, June, Guid.Empty),
            new Weighed(visit, Guid.NewGuid(), 520, June, Guid.Empty)
        );
        await practices.NeighbourGoesOn();

        Assert.Equal(520, Assert.Single(await Weights(client, horse)));
        var of = Assert.Single((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        Assert.Equal("cross_section_traced", of.GetProperty("what").GetString());
        var timeline = (await client.GetFromJson($"/api/horses/{horse}/timeline")).GetProperty("items").EnumerateArray().ToList();
        Assert.Contains(timeline, t => t.GetProperty("kind").GetString() == "cross_section_traced");
        Assert.Contains(NotWhole, await client.GetStringAsync($"/horses/{horse}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_event_whose_bytes_cannot_be_read_is_set_aside_and_comes_back_when_a_release_can_read_it()
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse("Unreadable");
        var (visit, entry) = (Guid.NewGuid(), Guid.NewGuid());
        await AroundTheDoor(horse, new VisitRecorded(visit, new VisitConditions(), "flexible-curve", 1, June, Guid.Empty));
        const string Spoil =
            """update history.mt_events set data = data || '{"kilograms":"many"}' where stream_id = ? and type = 'weighed'""";
        await AroundTheDoor(horse, Spoil, new Weighed(visit, entry, 520, June, Guid.Empty));
        await practices.NeighbourGoesOn();

        var of = Assert.Single((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        Assert.Equal("weighed", of.GetProperty("what").GetString());
        Assert.Contains(NotWhole, await client.GetStringAsync($"/horses/{horse}"), StringComparison.Ordinal);
        Assert.Empty(await Weights(client, horse));

        // Another release begins by trying again what this one could not read: nothing changes while it cannot either.
        await TryAgain("a release that cannot read it either");
        Assert.Single((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        await Mend(horse);
        await TryAgain("a release that can");
        Assert.Empty((await client.GetFromJson($"/api/horses/{horse}")).GetProperty("setAside").EnumerateArray());
        Assert.Equal(520, Assert.Single(await Weights(client, horse)));
        await practices.NeighbourGoesOn();
    }

    [Fact]
    public async Task An_archive_with_a_number_that_no_horse_has_is_refused_with_its_line_or_taken_in_with_that_event_set_aside()
    {
        using var from = practices.Host.Client(SeparatePractices.Poisoned);
        using var to = practices.Host.Client(SeparatePractices.Taken);
        var horse = await from.Horse("Moves House");
        var visit = Guid.NewGuid();
        await AroundTheDoor(
            horse,
            new VisitRecorded(visit, new VisitConditions(), "flexible-curve", 1, June, Guid.Empty),
            new ToplineTraced(visit, Guid.NewGuid(), Backs.Topline(20).Points, null, Wild, false, 1, June, Guid.Empty)
        );
        await practices.Followed();
        var archive = await from.GetByteArrayAsync($"/api/horses/{horse}/archive");

        var refused = await Send(to, "/api/archive", archive);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        var problem = await refused.Json();
        Assert.Equal("implausible", problem.GetProperty("code").GetString());
        var line = Lines(archive).First(l => l.Contains("topline_traced", StringComparison.Ordinal));
        var place = JsonDocument.Parse(line).RootElement.GetProperty("position").GetInt64();
        Assert.Contains($"line {place} of events.jsonl", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Empty((await to.GetFromJson("/api/horses")).GetProperty("items").EnumerateArray());

        using var moved = practices.Host.Client(SeparatePractices.Moved);
        var taken = await Send(moved, "/api/archive?implausible=set-aside", archive);
        Assert.True(taken.IsSuccessStatusCode, await taken.Content.ReadAsStringAsync());
        await practices.NeighbourGoesOn();
        var aside = Assert.Single((await moved.GetFromJson("/api/audit/set-aside")).EnumerateArray());
        Assert.Equal(horse, aside.GetProperty("horseId").GetGuid());
        Assert.Equal("Moves House", (await moved.GetFromJson($"/api/horses/{horse}")).GetProperty("name").GetString());
    }

    private static async Task<double[]> Weights(HttpClient client, Guid horse)
    {
        var measures = await client.GetFromJson($"/api/horses/{horse}/measures?key=weight");
        return [.. measures.EnumerateArray().Select(m => m.GetProperty("value").GetDouble())];
    }

    /// <summary>Into the store as it is, past every decider.</summary>
    private Task AroundTheDoor(Guid horse, params object[] events) => AroundTheDoor(horse, null, events);

    private async Task AroundTheDoor(Guid horse, string? then, params object[] events)
    {
        // What was written is changed by the owner of the database or by nobody.
        IDocumentStore store = then is null
            ? practices.Host.Services.GetRequiredService<IDocumentStore>()
            : practices.Host.Services.GetRequiredService<IWholeHistory>();
        await using var session = store.LightweightSession(SeparatePractices.Poisoned);
        session.Events.Append(horse, events);
        if (then is not null)
            session.QueueSqlCommand(then, horse);
        await session.SaveChangesAsync();
    }

    private async Task TryAgain(string release)
    {
        await practices.Host.Services.GetRequiredService<SetAsideRetry>().Run(release, CancellationToken.None);
        await practices.Followed();
    }

    private async Task Mend(Guid horse)
    {
        const string Sql = """update history.mt_events set data = data || '{"kilograms":520}' where stream_id = $1 and type = 'weighed'""";
        await using var command = practices.Database.CreateCommand(Sql);
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = horse });
        await command.ExecuteNonQueryAsync();
    }

    private static async Task<HttpResponseMessage> Send(HttpClient client, string path, byte[] zip)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(zip) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        return await client.SendAsync(request);
    }

    private static string[] Lines(byte[] zip)
    {
        using var archive = new ZipArchive(new MemoryStream(zip));
        using var reader = new StreamReader(archive.GetEntry("events.jsonl")!.Open());
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
