using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.DryRuns;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using Marten;

namespace BackHistory.Store.Reminders.DryRuns;

/// <summary>Carries dry runs out. Nothing of them is history: the answer is a document that can be thrown away.</summary>
public sealed class DryRuns(IDocumentStore store, ReminderSentence sentence, StateSentence because, TimeProvider time)
{
    private const int Batch = 50;

    /// <summary>The most lines that an answer names; the counts are of all.</summary>
    private const int MostRows = 5000;

    /// <summary>Notes that one is wanted.</summary>
    /// <param name="most">Horses to rehearse; where the practice has more, those whose ids come first, which is as good as chance.</param>
    public async Task<DryRun> Ask(
        string practice,
        Guid id,
        ReminderRules rules,
        WatchRules watch,
        DateOnly from,
        DateOnly to,
        int most,
        CancellationToken ct
    )
    {
        await using var session = store.QuerySession(practice);
        var of = await session.Query<HorseProfile>().CountAsync(ct);
        var run = new DryRun(id, from, to, rules, watch, of, Math.Min(of, most), 0, time.GetUtcNow(), null, null, [], []);
        await store.Add(practice, id, run, ct);
        return run;
    }

    public async Task<DryRun?> Load(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<DryRun>(id, ct);
    }

    /// <summary>Does it, with its progress kept; begun again it starts over.</summary>
    public async Task Carry(string practice, Guid id, CancellationToken ct)
    {
        if (await Load(practice, id, ct) is not { FinishedAt: null } run)
            return;
        try
        {
            await Carry(practice, run, ct);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            await Keep(practice, run with { Failed = "It broke off; it is tried again." }, ct);
            throw;
        }
    }

    private async Task Carry(string practice, DryRun run, CancellationToken ct)
    {
        await using var query = store.QuerySession(practice);
        if (await query.Query<Practice>().FirstOrDefaultAsync(ct) is not { } known)
            return;
        run = run with { Done = 0, Failed = null, Reminders = [], Refits = [], Changes = [] };
        Guid? after = null;
        while (run.Done < run.Wanted)
        {
            var horses = await Next(query, after, Math.Min(Batch, run.Wanted - run.Done), ct);
            if (horses.Count == 0)
                break;
            after = horses[^1].Id;
            var ids = horses.Select(h => h.Id).ToArray();
            var visits = (await query.Query<VisitRecord>().Where(v => v.HorseId.IsOneOf(ids)).ToListAsync(ct)).ToLookup(v => v.HorseId);
            foreach (var horse in horses)
            {
                ct.ThrowIfCancellationRequested();
                var then = Live(run.Rules, run.Watch);
                // Beside the rules in force, lived through in the same way: people's answers play no part in either.
                var change =
                    !horse.Gone
                    && then.AtTheEnd is { } would
                    && Live(known.ReminderRules, known.Rules).AtTheEnd is { } now
                    && !would.IsAs(now)
                        ? new SimulatedChange(horse.Id, horse.Name, now, would)
                        : null;
                run = run with
                {
                    Done = run.Done + 1,
                    Reminders = [.. run.Reminders, .. then.Reminders],
                    Refits = [.. run.Refits, .. then.Refits],
                    Changes = change is null ? run.Changes : [.. run.Changes, change],
                };

                SimulatedLife Live(ReminderRules rules, WatchRules watch) =>
                    RuleSimulation.Simulate(horse, [.. visits[horse.Id]], known, rules, watch, run.From, run.To, sentence, because);
            }

            await Keep(practice, run with { Reminders = [], Refits = [], Changes = [] }, ct);
        }

        await Keep(
            practice,
            run.Counted() with
            {
                FinishedAt = time.GetUtcNow(),
                Reminders = [.. run.Reminders.Take(MostRows)],
                Refits = [.. run.Refits.Take(MostRows)],
                Changes = [.. run.Changes.Take(MostRows)],
            },
            ct
        );
    }

    private static Task<IReadOnlyList<HorseProfile>> Next(IQuerySession session, Guid? after, int size, CancellationToken ct)
    {
        var query = session.Query<HorseProfile>().AsQueryable();
        if (after is { } id)
            query = query.Where(h => h.Id.CompareTo(id) > 0);
        return query.OrderBy(h => h.Id).Take(size).ToListAsync(ct);
    }

    /// <summary>One that another run has finished meanwhile stays as it is, and one that is gone is gone.</summary>
    private Task Keep(string practice, DryRun run, CancellationToken ct) =>
        store.Change<DryRun>(practice, run.Id, now => now.FinishedAt is null ? run : now, ct);
}
