using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Projections;
using JasperFx;
using JasperFx.Events;
using Marten;
using Marten.Exceptions;
using Npgsql;

namespace BackHistory.Store;

/// <summary>
/// One command, one transaction, one stream: the state is read, the decider decides, its events and the command's receipt are saved
/// together. What would be wrong half done takes two streams (<see cref="ExecuteOnBoth{TState}"/>).
/// </summary>
public sealed partial class Commands(IDocumentStore store, MeasuredTracings? measured = null)
{
    private const int Attempts = 4;

    private readonly MeasuredTracings _measured = measured ?? new MeasuredTracings();

    /// <summary>Carries a command out once, however often it comes.</summary>
    /// <param name="decide">Pure; may be called again when another writer came first and no version was demanded.</param>
    /// <exception cref="NpgsqlException">The database cannot be reached.</exception>
    public Task<Outcome> Execute<TState>(CommandContext context, Guid streamId, Func<TState?, Decided> decide, CancellationToken ct)
        where TState : class, IFolded<TState> =>
        Attempt(context, streamId, () => Once<TState>(context, streamId, _ => Task.FromResult(decide), false, ct), ct);

    /// <summary>The same where the decision also rests on something else: that is read in the transaction, and stays as it is until the
    /// transaction is over.</summary>
    /// <param name="look">Reads what else is needed, and gives the decision that rests on it; see <see cref="Held"/>.</param>
    public Task<Outcome> ExecuteHolding<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, Decided>>> look,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Attempt(context, streamId, () => Once(context, streamId, look, false, ct), ct);

    /// <summary>The same for what people ask for: everybody and everything that the decision names must be of this practice.</summary>
    public Task<Outcome> ExecuteNaming<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, Decided>>> look,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Attempt(context, streamId, () => Once(context, streamId, look, true, ct), ct);

    private async Task<Outcome> Attempt(CommandContext context, Guid streamId, Func<Task<Outcome>> once, CancellationToken ct)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                if (await Earlier(context, streamId, ct) is { } earlier)
                    return earlier;
                var outcome = await once();
                // The same command may have come first between the two looks: then it refuses itself.
                return outcome.Refused is null ? outcome : await Earlier(context, streamId, ct) ?? outcome;
            }
            catch (Exception e) when (Race(e))
            {
                if (await Earlier(context, streamId, ct) is { } earlier)
                    return earlier;
                if (context.ExpectedVersion is not null)
                    return Stale(streamId, null);
                if (attempt == Attempts)
                    return new Outcome(streamId, 0, 0, CommandRefusals.Busy);
            }
            catch (Exception e) when (OutcomeUnknown(e) && attempt < Attempts)
            {
                // The reply to COMMIT may be lost though the commit was not: the next round looks for the receipt first.
            }
        }
    }

    private async Task<Outcome> Once<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, Decided>>> look,
        bool names,
        CancellationToken ct
    )
        where TState : class, IFolded<TState>
    {
        await using var session = Open(context);
        var held = new Held(session, context.Tenant, ct);
        var decide = await look(held);
        if (streamId == Guid.Empty)
            return new Outcome(streamId, 0, 0, decide(null).Refused ?? CommandRefusals.NoId);
        var stream = await session.Events.FetchForWriting<TState>(streamId, ct);
        if (context.ExpectedVersion is { } expected && (stream.CurrentVersion ?? 0) != expected)
            return Stale(streamId, stream.CurrentVersion);
        var decided = decide(stream.Aggregate);
        if (decided.Refused is { } refused)
            return new Outcome(streamId, stream.CurrentVersion ?? 0, 0, refused);
        if (decided.Events.Count == 0)
            return new Outcome(streamId, stream.CurrentVersion ?? 0, 0, null);
        if (Consequences.Problem(decided, streamId, _measured) is { } cannot)
            return new Outcome(streamId, stream.CurrentVersion ?? 0, 0, cannot);
        if (names && await Named.Problem(held, context.Actor, decided, () => Earlier(session, streamId, ct)) is { } notThere)
            return new Outcome(streamId, stream.CurrentVersion ?? 0, 0, notThere);

        var version = (stream.CurrentVersion ?? 0) + decided.Events.Count;
        if (stream.CurrentVersion is null or 0)
            session.Events.StartStream<TState>(streamId, decided.Events);
        else
            stream.AppendMany(decided.Events);
        SideDocuments.Save(session, decided.SideDocuments);
        return await Save(session, context, streamId, version, ct);
    }

    /// <summary>Saves what is pending with the command's receipt, in one transaction.</summary>
    private static async Task<Outcome> Save(
        IDocumentSession session,
        CommandContext context,
        Guid streamId,
        long version,
        CancellationToken ct
    )
    {
        session.Insert(new CommandReceipt(context.Key, context.Fingerprint, streamId, version, context.Now));
        var written = session.PendingChanges.Streams().SelectMany(s => s.Events).ToList();
        // The recorded clock is the clock of the decision: an import or a restored history keeps its own.
        foreach (var e in written)
            e.Timestamp = context.Now;
        await session.SaveChangesAsync(ct);
        return new Outcome(streamId, version, written.Max(e => e.Sequence), null);
    }

    private static async Task<IReadOnlyList<object>> Earlier(IDocumentSession session, Guid streamId, CancellationToken ct) =>
        [.. (await session.Events.FetchStreamAsync(streamId, token: ct)).Select(e => e.Data)];

    private async Task<Outcome?> Earlier(CommandContext context, Guid streamId, CancellationToken ct)
    {
        await using var session = store.QuerySession(context.Tenant);
        if (await Receipt(session, context, ct) is not { } receipt)
            return null;
        if (receipt.Fingerprint != context.Fingerprint)
            return new Outcome(streamId, 0, 0, CommandRefusals.KeyReused);
        return new Outcome(receipt.StreamId, receipt.Version, 0, null, Repeated: true);
    }

    private static async Task<CommandReceipt?> Receipt(IQuerySession session, CommandContext context, CancellationToken ct)
    {
        if (CallerKey.Bare(context.Key) is not { } bare)
            return await session.LoadAsync<CommandReceipt>(context.Key, ct);
        var receipts = await session.LoadManyAsync<CommandReceipt>(ct, context.Key, bare);
        // Of earlier releases only the very same request counts: a bare key may be somebody else's, or the service's.
        return receipts.FirstOrDefault(r => r.Id == context.Key)
            ?? receipts.FirstOrDefault(r => r.Fingerprint == context.Fingerprint && r.Fingerprint.Length > 0);
    }

    private IDocumentSession Open(CommandContext context)
    {
        var session = store.LightweightSession(context.Tenant);
        session.LastModifiedBy = context.Actor.ToString();
        session.CorrelationId = context.Correlation;
        session.CausationId = context.Key;
        return session;
    }

    private static Outcome Stale(Guid streamId, long? version) => new(streamId, version ?? 0, 0, CommandRefusals.Stale);

    private static bool Race(Exception e) =>
        e switch
        {
            EventStreamUnexpectedMaxEventIdException
            or ConcurrencyException
            or JasperFx.Events.ExistingStreamIdCollisionException
            or Marten.Exceptions.ExistingStreamIdCollisionException
            or DocumentAlreadyExistsException => true,
            MartenCommandException { InnerException: { } inner } => Race(inner),
            PostgresException
            {
                SqlState: PostgresErrorCodes.UniqueViolation
                    or PostgresErrorCodes.SerializationFailure
                    or PostgresErrorCodes.DeadlockDetected
            } => true,
            AggregateException a => a.InnerExceptions.Any(Race),
            _ => false,
        };

    private static bool OutcomeUnknown(Exception e) =>
        e switch
        {
            PostgresException => false,
            NpgsqlException or IOException => true,
            MartenCommandException m => m.InnerException is { } inner && OutcomeUnknown(inner),
            _ => false,
        };
}

/// <summary>Why a command is refused before it is looked at.</summary>
public static class CommandRefusals
{
    public static readonly Refused Stale = new(
        "stale",
        "Somebody else changed this in the meantime. Nothing was saved; look at it again and repeat.",
        RefusalKind.Stale
    );

    public static readonly Refused KeyReused = new(
        "key-reused",
        "This idempotency key was used before with other content. Nothing was saved; take a new key.",
        RefusalKind.Conflict
    );

    /// <summary>The store knows no stream of this id, and cannot be asked for it.</summary>
    public static readonly Refused NoId = new(
        "no-id",
        "An id of zeros is nothing's. Nothing was saved; send the id of what is meant.",
        RefusalKind.NotFound
    );

    public static readonly Refused Busy = new(
        "busy",
        "Several people are writing to this at once. Nothing was saved; try again.",
        RefusalKind.Conflict
    );
}
