using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Store.Files;
using Marten;

namespace BackHistory.Store.Imports;

/// <summary>Where imports lie, and what the practice knows already by name.</summary>
public sealed class ImportStore(IDocumentStore store, FileStore files)
{
    /// <summary>Keeps a spreadsheet that was sent in; the same again is the same import.</summary>
    /// <returns>The import as it lies there: the first one, where it came twice.</returns>
    public async Task<Import> Keep(string practice, Import import, byte[] bytes, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        if (await session.LoadAsync<Import>(import.Id, ct) is { } before)
            return before;
        var file = FileBytes.Spreadsheet(import.Id, bytes);
        FileTable.Queue(session, file);
        import = import with { File = file.Hash };
        session.Store(import);
        await session.SaveChangesAsync(ct);
        return import;
    }

    public async Task<Import?> Load(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Import>(id, ct);
    }

    /// <summary>Newest first.</summary>
    public async Task<IReadOnlyList<Import>> All(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Import>().OrderByDescending(i => i.At).ThenBy(i => i.Id).Take(200).ToListAsync(ct);
    }

    public async Task<int> TakenBack(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Import>().CountAsync(i => i.State == ImportState.ImportRollback || i.State == ImportState.TakenBack, ct);
    }

    public async Task<byte[]?> Bytes(string practice, Import import, CancellationToken ct)
    {
        using var memory = new MemoryStream();
        return import.File is { } hash && await files.Copy(practice, hash, memory, ct) ? memory.ToArray() : null;
    }

    /// <summary>Saves how far it got, with its lines and the documents that they made, in one transaction.</summary>
    /// <returns>False when it is not at that any more: somebody discarded it, or another run has finished. Nothing was saved.</returns>
    public async Task<bool> Save(
        string practice,
        Import import,
        IReadOnlyList<ImportLine> lines,
        IReadOnlyList<object> documents,
        CancellationToken ct
    )
    {
        await using var session = store.LightweightSession(practice);
        if (await StillAt(session, practice, import, ct) is not { } now)
            return false;
        session.Update(Further(now, import));
        session.StoreObjects(lines);
        // A person or a yard that is there already may have been changed since.
        var people = documents.OfType<Person>().DistinctBy(p => p.Id).ToList();
        var yards = documents.OfType<Yard>().DistinctBy(y => y.Id).ToList();
        var knownPeople = await session.LoadManyAsync<Person>(ct, [.. people.Select(p => p.Id)]);
        var knownYards = await session.LoadManyAsync<Yard>(ct, [.. yards.Select(y => y.Id)]);
        session.InsertObjects(people.ExceptBy(knownPeople.Select(p => p.Id), p => p.Id));
        session.InsertObjects(yards.ExceptBy(knownYards.Select(y => y.Id), y => y.Id));
        await session.SaveChangesAsync(ct);
        return true;
    }

    /// <summary>Entered or taken back, its file is not needed any more.</summary>
    public async Task Forget(string practice, Import import, ImportState then, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        if (await StillAt(session, practice, import, ct) is not { } now)
            return;
        if (now.File is { } hash)
            FileTable.Erase(session, hash);
        // What was answered about single values may name people.
        session.Update(
            Further(now, import) with
            {
                State = then,
                File = null,
                EnteredAt = import.EnteredAt,
                Plan = now.Plan is { } plan ? plan with { Answers = null } : null,
            }
        );
        await session.SaveChangesAsync(ct);
    }

    /// <summary>The import as it stands, held until the transaction is over; null where it is not being done any more what was being
    /// done.</summary>
    private static async Task<Import?> StillAt(IDocumentSession session, string practice, Import import, CancellationToken ct)
    {
        await session.BeginTransactionAsync(ct);
        var found = await session.QueryAsync<Import>("where d.id = ? and d.tenant_id = ? for update", ct, import.Id, practice);
        return found is [var now] && now.State == import.State ? now : null;
    }

    /// <summary>Only how far it got: the rest is as others left it.</summary>
    private static Import Further(Import now, Import import) =>
        now with
        {
            Lines = import.Lines,
            Counts = import.Counts,
            TakenBack = import.TakenBack,
        };

    /// <summary>Changes an import as it stands now.</summary>
    /// <returns>The import afterwards; null when there is none.</returns>
    public Task<Import?> Change(string practice, Guid id, Func<Import, Import> change, CancellationToken ct) =>
        store.Change(practice, id, change, ct);

    /// <summary>Discards a spreadsheet that was sent in and not entered.</summary>
    /// <returns>False when it is being entered by now, or is gone.</returns>
    public async Task<bool> Discard(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        await session.BeginTransactionAsync(ct);
        if (
            await session.QueryAsync<Import>("where d.id = ? and d.tenant_id = ? for update", ct, id, practice)
            is not [{ State: ImportState.SentIn } import]
        )
            return false;
        if (import.File is { } hash)
            FileTable.Erase(session, hash);
        session.Delete(import);
        await session.SaveChangesAsync(ct);
        return true;
    }

    /// <summary>By line, from a line on.</summary>
    public async Task<IReadOnlyList<ImportLine>> Lines(
        string practice,
        Guid importId,
        LineVerdict? verdict,
        int after,
        int size,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var query = session.Query<ImportLine>().Where(l => l.ImportId == importId && l.Line > after);
        if (verdict is { } one)
            query = query.Where(l => l.Verdict == one);
        return await query.OrderBy(l => l.Line).Take(size).ToListAsync(ct);
    }

    /// <summary>Everything that a spreadsheet may name.</summary>
    public async Task<KnownNames> Names(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var horses = await session
            .Query<Horse>()
            .Where(h => !h.Withdrawn && h.MergedInto == null)
            .Select(h => new KnownHorse(h.Id, h.Name, h.Foaled, h.OwnerId))
            .ToListAsync(ct);
        var saddles = await session
            .Query<Saddle>()
            .Where(s => !s.Withdrawn)
            .Select(s => new KnownSaddle(s.Id, s.Label, s.Gauge))
            .ToListAsync(ct);
        return new KnownNames(horses, saddles, await session.Query<Person>().ToListAsync(ct), await session.Query<Yard>().ToListAsync(ct));
    }

    public async Task<Horse?> Horse(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Horse>(id, ct);
    }

    public async Task<Saddle?> Saddle(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<Saddle>(id, ct);
    }

    /// <summary>The keys of the gauges in which saddles that stand are read.</summary>
    public async Task<IReadOnlySet<string>> GaugesOfSaddles(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var keys = await session.Query<Saddle>().Where(s => !s.Withdrawn && s.Gauge != null).Select(s => s.Gauge!).ToListAsync(ct);
        return keys.ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Takes a person or a yard back that an import made, unless something names it.</summary>
    /// <returns>Why it stays, or null.</returns>
    public async Task<string?> Remove(string practice, MadeByImport made, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        // Whoever enters a horse for this owner holds them: they come before, and are seen here, or after, and find nobody.
        await session.BeginTransactionAsync(ct);
        const string ForUpdate = "where d.id = ? and d.tenant_id = ? for update";
        if (made.As == MadeAs.Person)
            await session.QueryAsync<Person>(ForUpdate, ct, made.Id, practice);
        else
            await session.QueryAsync<Yard>(ForUpdate, ct, made.Id, practice);
        if (await WhyItStays(session, practice, made.Id, ct) is { } why)
            return why;
        if (made.As == MadeAs.Person)
            session.Delete<Person>(made.Id);
        else
            session.Delete<Yard>(made.Id);
        await session.SaveChangesAsync(ct);
        return null;
    }

    /// <summary>Whether a person or a yard that an import made is there still.</summary>
    public async Task<bool> IsThere(string practice, MadeByImport made, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return made.As == MadeAs.Person
            ? await session.LoadAsync<Person>(made.Id, ct) is not null
            : await session.LoadAsync<Yard>(made.Id, ct) is not null;
    }

    /// <summary>Whether a person or a yard would be kept, as things stand: nothing is taken back.</summary>
    public async Task<string?> WhyItStays(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await WhyItStays(session, practice, id, ct);
    }

    private static async Task<string?> WhyItStays(IQuerySession session, string practice, Guid id, CancellationToken ct)
    {
        var named =
            await session.Query<Horse>().AnyAsync(h => !h.Withdrawn && (h.OwnerId == id || h.YardId == id), ct)
            || await session.Query<Saddle>().AnyAsync(s => !s.Withdrawn && s.OwnerId == id, ct);
        if (named)
            return "A horse or a saddle that stands names it.";
        return await InHistories(session, practice, id, ct) ? "Work, a visit, a booking, a note or somebody's access names it." : null;
    }

    /// <summary>Whether anything but the registrations of horses and saddles that are withdrawn says this id; tracings, which are most
    /// of what is written, name nobody.</summary>
    private static async Task<bool> InHistories(IQuerySession session, string practice, Guid id, CancellationToken ct) =>
        (
            await session.AdvancedSql.QueryAsync<bool>(
                """
                select exists (
                    select 1 from history.mt_events e
                    where e.tenant_id = ? and e.type not in ('cross_section_traced', 'topline_traced') and e.data::text like ?
                      and not exists (select 1 from history.mt_doc_horse h where h.tenant_id = e.tenant_id and h.id = e.stream_id
                                      and (h.data ->> 'withdrawn')::boolean)
                      and not exists (select 1 from history.mt_doc_saddle s where s.tenant_id = e.tenant_id and s.id = e.stream_id
                                      and (s.data ->> 'withdrawn')::boolean))
                    or exists (select 1 from history.mt_doc_note n where n.tenant_id = ? and n.data::text like ?)
                """,
                ct,
                practice,
                $"%{id}%",
                practice,
                $"%{id}%"
            )
        )[0];
}
