using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using BackHistory.Store;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>A service of its own with practices that share its read models: what one of them sends in must not stop the others.</summary>
public sealed class SeparatePractices : IAsyncLifetime
{
    /// <summary>The practice that sends in what nobody can measure.</summary>
    public const string Poisoned = "poisoned";

    /// <summary>The practice that goes on with its work.</summary>
    public const string Neighbour = "neighbour";

    /// <summary>Empty practices into which an archive is taken.</summary>
    public const string Taken = "taken",
        Moved = "moved";

    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-separate-");

    public ServedHost Host { get; private set; } = null!;

    /// <summary>The clock by which the service judges how long something has stood still.</summary>
    public ShiftedTime Time { get; } = new();

    public async ValueTask InitializeAsync() =>
        Host = await ServedHost.Start(
            await TestServer.NewDatabase(),
            _state.FullName,
            builder => builder.Services.Replace(ServiceDescriptor.Singleton<TimeProvider>(Time)),
            Poisoned,
            Neighbour,
            Taken,
            Moved
        );

    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync();
        _state.Delete(recursive: true);
    }

    public Npgsql.NpgsqlDataSource Database => Host.Services.GetRequiredKeyedService<Npgsql.NpgsqlDataSource>("owner");

    /// <summary>The other practice records a visit, and reads its measures: everything goes on.</summary>
    public async Task NeighbourGoesOn()
    {
        using var client = Host.Client(Neighbour);
        var horse = await client.Horse("Goes On");
        var visit = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", Visit(ClientExtensions.Section(45, 41)));
        Assert.True(visit.StatusCode == HttpStatusCode.Created, await visit.Content.ReadAsStringAsync());
        await Followed();
        var measures = await client.GetFromJson($"/api/horses/{horse}/measures?key=slope-left");
        Assert.Equal(45, Assert.Single(measures.EnumerateArray()).GetProperty("value").GetDouble(), 0.5);
    }

    /// <summary>Every read model has seen every event.</summary>
    public async Task Followed()
    {
        var progress = Host.Services.GetRequiredService<Progress>();
        var last = await progress.Last(CancellationToken.None);
        var followed = await progress.Wait(last, TimeSpan.FromMinutes(5), TimeProvider.System, CancellationToken.None);
        Assert.True(followed, "the read models stand still");
    }

    public static object Visit(params object[] entries) =>
        new
        {
            takenAt = "2026-06-12T10:00:00Z",
            method = "flexible-curve",
            entries,
        };

    /// <summary>A cross-section that is good but for one part of it, as JSON.</summary>
    public static JsonObject Section(string part, string json)
    {
        var section = JsonSerializer.SerializeToNode(ClientExtensions.Section(45, 41))!.AsObject();
        section[part] = JsonNode.Parse(json);
        return section;
    }
}

/// <summary>The clock of the machine, put forward by a test.</summary>
public sealed class ShiftedTime : TimeProvider
{
    private long _ticks;

    public void Forward(TimeSpan by) => Interlocked.Add(ref _ticks, by.Ticks);

    public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + TimeSpan.FromTicks(Interlocked.Read(ref _ticks));

    public override long GetTimestamp() =>
        base.GetTimestamp() + (long)(TimeSpan.FromTicks(Interlocked.Read(ref _ticks)).TotalSeconds * TimestampFrequency);
}
