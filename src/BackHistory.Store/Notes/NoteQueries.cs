using BackHistory.History.Notes;
using Marten;

namespace BackHistory.Store.Notes;

/// <summary>Reads notes. What was erased is not there any more.</summary>
public sealed class NoteQueries(IDocumentStore store)
{
    public async Task<IReadOnlyList<Note>> Load(string practice, IEnumerable<Guid> ids, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadManyAsync<Note>(ct, ids.Distinct().ToArray());
    }
}
