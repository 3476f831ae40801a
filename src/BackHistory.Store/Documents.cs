using BackHistory.History;
using JasperFx;
using Marten;

namespace BackHistory.Store;

/// <summary>
/// Changing what lies beside the events. A document that was read a while ago and is saved whole takes back what others changed since,
/// and brings back what they removed: so it is read, changed and saved under its row's lock, and what is not there is not made.
/// </summary>
internal static class Documents
{
    /// <summary>Changes a document as it stands now.</summary>
    /// <param name="practice">The tenant; null for what belongs to no practice.</param>
    /// <param name="id">A <see cref="Guid"/> or a string, as the document has it.</param>
    /// <param name="change">Pure. The same document again leaves it as it is.</param>
    /// <returns>The document as it is afterwards; null when there is none.</returns>
    public static async Task<T?> Change<T>(this IDocumentStore store, string? practice, object id, Func<T, T> change, CancellationToken ct)
        where T : class
    {
        await using var session = practice is null ? store.LightweightSession() : store.LightweightSession(practice);
        await session.BeginTransactionAsync(ct);
        var read = practice is null
            ? await session.QueryAsync<T>("where d.id = ? for update", ct, id)
            : await session.QueryAsync<T>("where d.id = ? and d.tenant_id = ? for update", ct, id, practice);
        if (read is not [var found])
            return null;
        var changed = change(found);
        if (ReferenceEquals(changed, found))
            return found;
        if (changed is IVersionedDocument<T> versioned)
            changed = versioned.At(versioned.Version + 1);
        session.Update(changed);
        await session.SaveChangesAsync(ct);
        return changed;
    }

    /// <summary>Adds a document unless it is there: repeated after a lost answer, it does not take back what happened to it
    /// since.</summary>
    public static async Task Add<T>(this IDocumentStore store, string practice, object id, T document, CancellationToken ct)
        where T : class
    {
        await using var session = store.LightweightSession(practice);
        if (await session.QueryAsync<T>("where d.id = ? and d.tenant_id = ?", ct, id, practice) is not [])
            return;
        session.Insert(document);
        try
        {
            await session.SaveChangesAsync(ct);
        }
        catch (DocumentAlreadyExistsException)
        {
            // Somebody added it between the two.
        }
    }
}
