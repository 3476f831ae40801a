using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Store;
using JasperFx.Events.Daemon;
using Marten;
using Npgsql;

namespace BackHistory.Testing;

/// <summary>A history on a database of its own, without the service around it. Read models follow when they are asked to.</summary>
public sealed class PracticeStore : IAsyncDisposable
{
    private readonly NpgsqlDataSource _database;
    private IProjectionDaemon? _daemon;

    private PracticeStore(NpgsqlDataSource database, DocumentStore store) => (_database, Store) = (database, store);

    public DocumentStore Store { get; }

    public NpgsqlDataSource Database => _database;

    public Commands Commands => new(Store);

    public HorseQueries Horses => new(Store);

    public SaddleQueries Saddles => new(Store);

    public ReminderQueries Reminders => new(Store);

    public Evaluation EvaluationAt(TimeProvider time) => new(Store, _database, Commands, new Progress(Store), time);

    public static async Task<PracticeStore> Open(string? connection = null)
    {
        var database = NpgsqlDataSource.Create(connection ?? await TestServer.NewDatabase());
        var store = DocumentStore.For(options =>
        {
            MartenSetup.Configure(options);
            options.Connection(database);
            options.Projections.AsyncMode = DaemonMode.Solo;
        });
        await MartenSetup.ApplySchema(store, database);
        return new PracticeStore(database, store);
    }

    /// <summary>Founds a practice, so that it has rules.</summary>
    public async Task Found(string practice, DateTimeOffset at) => await Commands.Execute<Practice>(
        Context(practice, $"found:{practice}", at), DeterministicId.Of("practice", practice),
        p => PracticeDecider.Decide(p, new FoundPractice(DeterministicId.Of("practice", practice), practice, "Etc/UTC", true, Guid.Empty), at), CancellationToken.None);

    /// <summary>Lets every read model follow to the last event.</summary>
    public async Task CatchUp()
    {
        _daemon ??= await Store.BuildProjectionDaemonAsync();
        if (!_daemon.IsRunning) await _daemon.StartAllAsync();
        await _daemon.WaitForNonStaleData(TimeSpan.FromSeconds(60));
    }

    public async Task Rebuild(string projection)
    {
        if (_daemon is { IsRunning: true }) await _daemon.StopAllAsync();
        using var daemon = await Store.BuildProjectionDaemonAsync();
        await daemon.RebuildProjectionAsync(projection, CancellationToken.None);
        _daemon = null;
    }

    public static CommandContext Context(string practice, string key, DateTimeOffset at, long? expected = null, string fingerprint = "") =>
        new(practice, Guid.Empty, key, fingerprint, expected, at);

    public async ValueTask DisposeAsync()
    {
        if (_daemon is not null)
        {
            await _daemon.StopAllAsync();
            _daemon.Dispose();
        }

        Store.Dispose();
        await _database.DisposeAsync();
    }
}
