using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using Marten;
using Marten.Linq.MatchesSql;

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

    /// <summary>Another horse of the practice that is told by one of these numbers, and whether the microchip is the one; null where there
    /// is none. Until the command is over nobody else's asks: two horses are not given one number at once.</summary>
    public async Task<(string Name, bool ByChip)?> SameNumber(HorseIdentity said)
    {
        await _session.BeginTransactionAsync(_ct);
        await _session.AdvancedSql.QueryAsync<bool>(
            "select pg_advisory_xact_lock(hashtextextended(?, 0)) is not null",
            _ct,
            $"numbers of horses of {_practice}"
        );
        var (id, chip, passport) = (said.Id, said.Microchip ?? "", said.Passport ?? "");
        var same = await _session
            .Query<HorseIdentity>()
            .Where(i =>
                i.Id != id
                && (
                    (chip != "" && i.Microchip == chip)
                    || (passport != "" && i.Passport == passport)
                    || i.MatchesSql(
                        "(d.data -> 'further' @> to_jsonb(?::text) or d.data -> 'further' @> to_jsonb(?::text))",
                        chip,
                        passport
                    )
                )
            )
            .ToListAsync(_ct);
        foreach (var other in same.OrderBy(i => i.Id))
            if (await Stream<Horse>(other.Id) is { Withdrawn: false, MergedInto: null } horse)
                return (horse.Name, chip != "" && (other.Microchip == chip || other.Further.Contains(chip, StringComparer.Ordinal)));
        return null;
    }

    /// <summary>How many horses stand in a yard, while nobody is moved there: whoever moves one holds the yard, and is waited
    /// for.</summary>
    public async Task<int> HorsesAt(Guid yardId)
    {
        await _session.BeginTransactionAsync(_ct);
        await _session.QueryAsync<Yard>("where d.id = ? and d.tenant_id = ? for update", _ct, yardId, _practice);
        return await _session.Query<Horse>().CountAsync(h => h.YardId == yardId && !h.Withdrawn && h.MergedInto == null, _ct);
    }

    /// <summary>Until the command is over nobody else of the practice books, moves or cancels a visit: of two who take one hour of one
    /// fitter, the second sees what the first took. Asked before anything else is held, so that whoever waits here keeps nobody
    /// waiting.</summary>
    public async Task Bookings()
    {
        await _session.BeginTransactionAsync(_ct);
        await _session.AdvancedSql.QueryAsync<bool>(
            "select pg_advisory_xact_lock(hashtextextended(?, 0)) is not null",
            _ct,
            $"bookings of {_practice}"
        );
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
    /// <param name="counts">Which of those that are there count; all where null.</param>
    internal async Task<IReadOnlySet<Guid>> There<T>(Guid[] ids, Func<T, Guid> idOf, Func<T, bool>? counts = null)
        where T : class
    {
        if (ids.Length == 0)
            return new HashSet<Guid>();
        await _session.BeginTransactionAsync(_ct);
        var read = await _session.QueryAsync<T>("where d.id = any(?) and d.tenant_id = ? order by d.id for share", _ct, ids, _practice);
        return read.Where(d => counts is null || counts(d)).Select(idOf).ToHashSet();
    }
}
