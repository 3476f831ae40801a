using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Language.Decisions;
using BackHistory.Language.Reminders;
using BackHistory.Store;
using BackHistory.Store.Horses;
using BackHistory.Store.Reminders;
using BackHistory.Store.Saddles;
using BackHistory.Store.Setup;
using JasperFx.Events.Daemon;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.Testing;

/// <summary>A history on a database of its own, without the service around it. Read models follow when they are asked to.</summary>
public sealed class PracticeStore : IAsyncDisposable
{
    private readonly ServiceProvider _services;
    private IProjectionDaemon? _daemon;

    private PracticeStore(ServiceProvider services, string connection) => (_services, OwnerConnection) = (services, connection);

    public string OwnerConnection { get; }

    public string MemberConnection => TenantIsolation.MemberOf(OwnerConnection);

    /// <summary>Under tenant isolation: what serves one practice.</summary>
    public IDocumentStore Store => _services.GetRequiredService<IDocumentStore>();

    /// <summary>All practices, as the owner sees them.</summary>
    public IWholeHistory Whole => _services.GetRequiredService<IWholeHistory>();

    /// <summary>Plain SQL as the owner.</summary>
    public NpgsqlDataSource Database => _services.GetRequiredKeyedService<NpgsqlDataSource>("owner");

    /// <summary>Plain SQL as the serving role.</summary>
    public NpgsqlDataSource Members => _services.GetRequiredService<NpgsqlDataSource>();

    public Commands Commands => _services.GetRequiredService<Commands>();

    /// <summary>What was measured when it was entered.</summary>
    public MeasuredTracings Measured => _services.GetRequiredService<MeasuredTracings>();

    public HorseQueries Horses => new(Store);

    public SaddleQueries Saddles => new(Store, new PracticeDatabase(Members));

    public ReminderQueries Reminders => new(Store);

    public Evaluation EvaluationAt(TimeProvider time) =>
        new(Store, new PracticeDatabase(Members), Commands, new Progress(Whole), ReminderSentences.InEnglish, time);

    /// <summary>Anything else that was added to it.</summary>
    public T Get<T>()
        where T : notnull => _services.GetRequiredService<T>();

    /// <param name="connection">A fresh database when null.</param>
    /// <param name="also">What stands on the store in a test, such as acts.</param>
    public static async Task<PracticeStore> Open(string? connection = null, Action<IServiceCollection>? also = null)
    {
        connection ??= await TestServer.NewDatabase();
        var collection = new ServiceCollection()
            .AddLogging()
            .AddSingleton<ReminderSentence>(ReminderSentences.InEnglish)
            .AddSingleton<StateSentence>(DecisionSentences.InEnglish)
            .AddHistory(connection, daemon: false);
        also?.Invoke(collection);
        var services = collection.BuildServiceProvider();
        await StoreSetup.ApplySchema(services);
        return new PracticeStore(services, connection);
    }

    /// <summary>Founds a practice, so that it has rules.</summary>
    /// <param name="lettersLeave">At any hour; otherwise it is as new as a practice can be.</param>
    public async Task Found(string practice, DateTimeOffset at, bool lettersLeave = true)
    {
        var id = DeterministicId.From("practice", practice);
        await Commands.Execute<Practice>(
            Context(practice, $"found:{practice}", at),
            id,
            p => PracticeDecider.Decide(p, new FoundPractice(id, practice, "Etc/UTC", true, Guid.Empty), at),
            CancellationToken.None
        );
        if (lettersLeave)
            await Commands.LettersLeaveAtAnyHour(practice, id, at);
    }

    /// <summary>Lets every read model follow to the last event.</summary>
    public async Task CatchUp()
    {
        _daemon ??= await Whole.BuildProjectionDaemonAsync();
        if (!_daemon.IsRunning)
            await _daemon.StartAllAsync();
        await _daemon.WaitForNonStaleData(TimeSpan.FromMinutes(5));
    }

    public async Task Rebuild(string projection)
    {
        if (_daemon is { IsRunning: true })
            await _daemon.StopAllAsync();
        // As another process would, which has measured nothing yet.
        await using var other = new ServiceCollection().AddLogging().AddHistory(OwnerConnection, daemon: false).BuildServiceProvider();
        using var daemon = await other.GetRequiredService<IWholeHistory>().BuildProjectionDaemonAsync();
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

        await _services.DisposeAsync();
    }
}
