using BackHistory.History;

namespace BackHistory.Store;

/// <summary>
/// One command on a document that lies beside the events because it must be erasable. It is held to what every command is held to: a
/// receipt in the same transaction, the version that the caller saw, and a note of who changed what.
/// </summary>
public sealed partial class Commands
{
    /// <param name="look">Reads what else is needed, and gives the decision: pure, given the document as it stands.</param>
    /// <returns>The outcome with the document's version; a document that is not there has version 0.</returns>
    public Task<Outcome> ExecuteOnDocument<T>(
        CommandContext context,
        Guid id,
        Func<Held, Task<Func<T?, DecidedDocument<T>>>> look,
        CancellationToken ct
    )
        where T : class, IVersionedDocument<T> => Attempt(context, id, () => OnceOnDocument(context, id, look, ct), ct);

    private async Task<Outcome> OnceOnDocument<T>(
        CommandContext context,
        Guid id,
        Func<Held, Task<Func<T?, DecidedDocument<T>>>> look,
        CancellationToken ct
    )
        where T : class, IVersionedDocument<T>
    {
        await using var session = Open(context);
        await session.BeginTransactionAsync(ct);
        var decide = await look(new Held(session, context.Tenant, ct));
        var read = await session.QueryAsync<T>("where d.id = ? and d.tenant_id = ? for update", ct, id, context.Tenant);
        var found = read is [var one] ? one : null;
        var version = found?.Version ?? 0;
        if (context.ExpectedVersion is { } expected && version != expected)
            return Stale(id, version);
        var decided = decide(found);
        if (decided.Refused is { } refused)
            return new Outcome(id, version, 0, refused);
        if (decided.Document is { } document && !ReferenceEquals(document, found))
        {
            version++;
            if (found is null)
                session.Insert(document.At(version));
            else
                session.Update(document.At(version));
        }

        if (decided.Note is { } note)
            session.Insert(note);
        session.Insert(new CommandReceipt(context.Key, context.Fingerprint, id, version, context.Now));
        await session.SaveChangesAsync(ct);
        return new Outcome(id, version, 0, null);
    }
}
