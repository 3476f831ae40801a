using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Rebuilds;
using Marten;

namespace BackHistory.Store.Practices;

/// <summary>What is asked about the practice, its people and its yards.</summary>
public sealed class PracticeQueries(IDocumentStore store)
{
    /// <summary>The practice's rules as they stand; null before it was founded.</summary>
    public async Task<Practice?> Load(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Practice>().FirstOrDefaultAsync(ct);
    }

    /// <summary>The practice as it stood while its rules had a version, so that an old decision can be made again; null for a version
    /// that they never had.</summary>
    public async Task<Practice?> AtRules(string practice, int rulesVersion, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        if (
            await session.Query<Practice>().FirstOrDefaultAsync(ct) is not { } known
            || rulesVersion < 1
            || rulesVersion > known.RulesVersion
        )
            return null;
        if (rulesVersion == known.RulesVersion)
            return known;
        var last = (await session.Events.FetchStreamAsync(known.Id, token: ct))
            .TakeWhile(e => VersionMadeBy(e.Data) is not { } made || made <= rulesVersion)
            .Last()
            .Version;
        return await session.Events.AggregateStreamAsync<Practice>(known.Id, last, token: ct);
    }

    private static int? VersionMadeBy(object e) =>
        e switch
        {
            WatchRulesChanged r => r.RulesVersion,
            PriorsLearned p => p.RulesVersion,
            NoiseLearned n => n.RulesVersion,
            _ => null,
        };

    /// <summary>Every version of the reminder rules, newest first: what was in force when.</summary>
    public async Task<IReadOnlyList<ReminderRulesChanged>> ReminderRulesVersions(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var changes = await session.Events.QueryRawEventDataOnly<ReminderRulesChanged>().ToListAsync(ct);
        return [.. changes.OrderByDescending(c => c.ReminderRulesVersion)];
    }

    /// <summary>Every table that a gauge of the practice ever had.</summary>
    public async Task<IReadOnlyList<GaugeTableChanged>> GaugeVersions(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Events.QueryRawEventDataOnly<GaugeTableChanged>().ToListAsync(ct);
    }

    /// <summary>How much was recorded in each of the last months in which anything was, newest first.</summary>
    public async Task<IReadOnlyList<PracticeMonth>> Months(string practice, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<PracticeMonth>().OrderByDescending(m => m.Id).Take(most).ToListAsync(ct);
    }

    /// <summary>The last rebuild of what is read; null where there was none.</summary>
    public async Task<Store.Rebuilds.RebuildRun?> Rebuild(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Store.Rebuilds.RebuildRun>(RebuildRun.TheOne, ct);
    }

    public async Task<Person?> Person(string practice, Guid personId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Person>(personId, ct);
    }

    public async Task<IReadOnlyList<Person>> People(string practice, IEnumerable<Guid> ids, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadManyAsync<Person>(ct, ids.Distinct().ToArray());
    }

    /// <summary>Who in the practice has this address, whatever its case; the first where several share it.</summary>
    public async Task<Person?> PersonByEmail(string practice, string email, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Person>()
            .Where(p => p.Email!.Equals(email, StringComparison.OrdinalIgnoreCase))
            .OrderBy(p => p.Id)
            .FirstOrDefaultAsync(ct);
    }

    /// <summary>By name, from a place on.</summary>
    public async Task<IReadOnlyList<Person>> PeopleByName(string practice, (string Name, Guid Id)? after, int size, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await People(session, practice, after, size, "", [], ct);
    }

    private static async Task<IReadOnlyList<Person>> People(
        IQuerySession session,
        string practice,
        (string Name, Guid Id)? after,
        int size,
        string condition,
        object[] values,
        CancellationToken ct
    )
    {
        const string Name = $"(d.data ->> 'name') {NameOrder.By}";
        var from = after is null ? "" : $" and ({Name}, d.id) > (?, ?)";
        object[] place = after is { } c ? [c.Name, c.Id] : [];
        var sql = $"where d.tenant_id = ?{condition}{from} order by {Name}, d.id limit ?";
        return await session.QueryAsync<Person>(sql, ct, [practice, .. values, .. place, size]);
    }

    /// <summary>By name, from a place on: those whose name, address or telephone number holds a text.</summary>
    public async Task<IReadOnlyList<Person>> PeopleWith(
        string practice,
        string text,
        (string Name, Guid Id)? after,
        int size,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var search = new TextSearch(text);
        return await People(
            session,
            practice,
            after,
            size,
            $" and {TextSearch.Person("d", "?", "?")}",
            [search.Anywhere, search.Anywhere, search.Anywhere, search.Telephone],
            ct
        );
    }

    /// <summary>People who may be one, written by another hand: by the name, or by the address for e-mail.</summary>
    public async Task<IReadOnlyList<Person>> Alike(string practice, string name, string? email, CancellationToken ct)
    {
        var key = SimilarNames.Key(name);
        await using var session = store.QuerySession(practice);
        // In memory: what an accent stands for is not the database's to say, it depends on how it was set up.
        var people = await session.Query<Person>().ToListAsync(ct);
        return
        [
            .. people
                .Where(p =>
                    (key.Length > 0 && SimilarNames.Key(p.Name) == key)
                    || (email is not null && string.Equals(p.Email, email, StringComparison.OrdinalIgnoreCase))
                )
                .OrderBy(p => p.Name, NameOrder.InMemory)
                .Take(MostAlike),
        ];
    }

    private const int MostAlike = 10;

    /// <summary>Yards whose name may be the same one.</summary>
    public async Task<IReadOnlyList<Yard>> YardsAlike(string practice, string name, CancellationToken ct)
    {
        var key = SimilarNames.Key(name);
        return key.Length == 0 ? [] : [.. (await YardsInUse(practice, ct)).Where(y => SimilarNames.Key(y.Name) == key).Take(MostAlike)];
    }

    /// <summary>How the practice is reached; null where nobody said yet.</summary>
    public async Task<PracticeContact?> Contact(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<PracticeContact>().FirstOrDefaultAsync(ct);
    }

    public async Task<IReadOnlyList<Person>> InRole(string practice, PersonRole role, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var people = await session.Query<Person>().Where(p => p.Role == role).ToListAsync(ct);
        return [.. people.OrderBy(p => p.Name, NameOrder.InMemory).ThenBy(p => p.Id)];
    }

    public async Task<IReadOnlyList<Yard>> Yards(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return [.. (await session.Query<Yard>().ToListAsync(ct)).OrderBy(y => y.Name, NameOrder.InMemory).ThenBy(y => y.Id)];
    }

    /// <summary>Those that were not removed: where a horse can be moved.</summary>
    public async Task<IReadOnlyList<Yard>> YardsInUse(string practice, CancellationToken ct) =>
        [.. (await Yards(practice, ct)).Where(y => !y.Removed)];

    /// <summary>Null where there is none; removed ones too.</summary>
    public async Task<Yard?> Yard(string practice, Guid yardId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Yard>(yardId, ct);
    }

    /// <summary>Changes a person as they stand now: what the change does not name stays as others left it.</summary>
    /// <returns>The person afterwards; null when there is none.</returns>
    public Task<Person?> Change(string practice, Guid personId, Func<Person, Person> change, CancellationToken ct) =>
        store.Change(practice, personId, change, ct);

    /// <summary>Adds a person, unless they are there already.</summary>
    public Task Add(string practice, Person person, CancellationToken ct) => store.Add(practice, person.Id, person, ct);

    /// <summary>Adds a yard, unless it is there already.</summary>
    public Task Add(string practice, Yard yard, CancellationToken ct) => store.Add(practice, yard.Id, yard, ct);

    /// <summary>Saves documents of this practice in one transaction, whole: for those that nobody else changes.</summary>
    public async Task Save(string practice, IEnumerable<object> documents, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        session.StoreObjects(documents);
        await session.SaveChangesAsync(ct);
    }
}
