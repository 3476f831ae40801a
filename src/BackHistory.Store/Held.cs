using BackHistory.History;
using BackHistory.History.Practices;
using Marten;

namespace BackHistory.Store;

/// <summary>
/// What a decision rests on besides its own stream. It is read inside the command's transaction and held until that is over: whoever
/// wants to change it waits, and whoever was at it already is waited for. Many may hold the same at once.
/// </summary>
public sealed class Held
{
    private readonly IDocumentSession _session;
    private readonly string _practice;
    private readonly CancellationToken _ct;

    internal Held(IDocumentSession session, string practice, CancellationToken ct) => (_session, _practice, _ct) = (session, practice, ct);

    /// <summary>The state of another stream; null where there is none.</summary>
    public async Task<T?> Stream<T>(Guid id)
        where T : class, IFolded<T>
    {
        if (id == Guid.Empty)
            return null;
        await _session.BeginTransactionAsync(_ct);
        // Whoever appends to a stream writes its row; its state is read after the row is held.
        await _session.AdvancedSql.QueryAsync<long>(
            "select version from history.mt_streams where id = ? and tenant_id = ? for share",
            _ct,
            id,
            _practice
        );
        return await _session.LoadAsync<T>(id, _ct);
    }

    /// <summary>A document that lies beside the events; null where there is none.</summary>
    public async Task<T?> Document<T>(Guid id)
        where T : class
    {
        await _session.BeginTransactionAsync(_ct);
        var read = await _session.QueryAsync<T>("where d.id = ? and d.tenant_id = ? for share", _ct, id, _practice);
        return read is [var found] ? found : null;
    }

    /// <summary>The first by id of those who have a part in the practice; null where nobody has.</summary>
    public async Task<Person?> FirstInRole(PersonRole role)
    {
        await _session.BeginTransactionAsync(_ct);
        var some = await _session.Query<Person>().Where(p => p.Role == role).OrderBy(p => p.Id).Select(p => p.Id).ToListAsync(_ct);
        foreach (var id in some)
            if (await Document<Person>(id) is { } person && person.Role == role)
                return person;
        return null;
    }

    /// <summary>Which of these documents there are.</summary>
    internal async Task<IReadOnlySet<Guid>> There<T>(Guid[] ids, Func<T, Guid> idOf)
        where T : class
    {
        if (ids.Length == 0)
            return new HashSet<Guid>();
        await _session.BeginTransactionAsync(_ct);
        var read = await _session.QueryAsync<T>("where d.id = any(?) and d.tenant_id = ? order by d.id for share", _ct, ids, _practice);
        return read.Select(idOf).ToHashSet();
    }
}
