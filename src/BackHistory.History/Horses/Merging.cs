using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.History.Store;
using Marten;
using Marten.Linq.MatchesSql;

namespace BackHistory.History.Horses;

/// <summary>
/// Merges what was entered twice. A horse takes several steps, one stream each: first its second registration is closed, so that nothing can be added
/// behind the merge's back; then its saddles follow, and whoever was let see it; last the other takes in what stands. Interrupted anywhere, the next <see cref="FinishAll"/> goes on.
/// </summary>
public sealed class Merging(IDocumentStore store, Commands commands)
{
    private const int Attempts = 4;

    /// <summary>Merges a second registration into the one that stays.</summary>
    /// <returns>The outcome for the registration that stays, or why nothing was done.</returns>
    public async Task<Outcome> Horses(CommandContext context, Guid duplicateId, Guid intoId, string reason, CancellationToken ct)
    {
        var into = await Load<Horse>(context.Tenant, intoId, ct);
        var closed = await commands.Execute<Horse>(
            context, duplicateId, h => HorseDecider.Decide(h, new MergeAway(intoId, reason, context.Actor), into, context.Now), ct);
        return closed.Refused is null ? await Finish(context.Tenant, duplicateId, context.Now, ct) : closed;
    }

    /// <summary>Goes on with merges that were interrupted.</summary>
    /// <returns>How many were finished.</returns>
    public async Task<int> FinishAll(string practice, DateTimeOffset now, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var away = await session.Query<Horse>().Where(h => h.MergedInto != null).ToListAsync(ct);
        var finished = 0;
        foreach (var duplicate in away)
        {
            if (await TakenIn(practice, duplicate, ct) is not { } taken || (taken && await SharingFollowed(practice, duplicate.Id, ct))) continue;
            // What was taken in once may have been corrected there since: it is not taken in again further on.
            var outcome = taken ? await Share(practice, duplicate.Id, now, ct) : await Finish(practice, duplicate.Id, now, ct);
            if (outcome.Refused is null) finished++;
        }

        return finished;
    }

    /// <summary>Merges a visit that was entered twice.</summary>
    public Task<Outcome> Visits(CommandContext context, Guid horseId, Guid visitId, Guid intoVisitId, string reason, CancellationToken ct) =>
        OnHistory<Horse>(context, horseId, (h, history) => HorseDecider.Decide(h, new MergeVisit(visitId, intoVisitId, reason, context.Actor), history, context.Now), ct);

    private async Task<Outcome> Finish(string practice, Guid duplicateId, DateTimeOffset now, CancellationToken ct)
    {
        var history = await History(practice, duplicateId, ct);
        var merged = history.OfType<HorseMergedAway>().Last();
        var intoId = await Last(practice, merged.IntoId, ct);
        foreach (var saddle in await SaddlesOf(practice, duplicateId, ct))
        {
            await OnHistory<Saddle>(
                Step(practice, duplicateId, merged.By, $"saddle:{saddle}", now), saddle, (s, done) => SaddleDecider.Decide(s, new FollowMerge(duplicateId, intoId, merged.Reason, merged.By), done, now), ct);
        }

        await Share(practice, duplicateId, now, ct);
        return await commands.Execute<Horse>(Step(practice, duplicateId, merged.By, "into", now), intoId, h => HorseDecider.Decide(h, new TakeIn(duplicateId, merged.Reason, merged.By), history, now), ct);
    }

    /// <summary>Grants and links of the second registration hold for the one that stays. What nobody shared needs no step.</summary>
    private async Task<Outcome> Share(string practice, Guid duplicateId, DateTimeOffset now, CancellationToken ct)
    {
        var merged = (await History(practice, duplicateId, ct)).OfType<HorseMergedAway>().Last();
        var intoId = await Last(practice, merged.IntoId, ct);
        var (from, into) = (HorseSharing.IdOf(duplicateId), HorseSharing.IdOf(intoId));
        if (await Load<HorseSharing>(practice, from, ct) is null) return new Outcome(into, 0, 0, null);
        var closed = await commands.Execute<HorseSharing>(
            Step(practice, duplicateId, merged.By, "sharing-away", now), from, s => SharingDecider.Decide(s, new MergeSharingAway(intoId, merged.By), now), ct);
        if (closed.Refused is not null) return closed;
        var history = await History(practice, from, ct);
        return await commands.Execute<HorseSharing>(
            Step(practice, duplicateId, merged.By, "sharing", now), into, s => SharingDecider.Decide(s, new TakeInSharing(duplicateId, intoId, merged.By), history, now), ct);
    }

    private static CommandContext Step(string practice, Guid duplicateId, Guid by, string name, DateTimeOffset now) => new(practice, by, $"merge:{duplicateId}:{name}", "", null, now);

    /// <summary>Whether the history of a second registration went on in the one that stays, or in one on the way there; null where there is none.</summary>
    private async Task<bool?> TakenIn(string practice, Horse duplicate, CancellationToken ct)
    {
        bool? taken = null;
        var seen = new HashSet<Guid>();
        for (var next = duplicate.MergedInto; next is { } id && seen.Add(id);)
        {
            if (await Load<Horse>(practice, id, ct) is not { } into) break;
            taken = taken == true || into.Merged.Contains(duplicate.Id);
            next = into.MergedInto;
        }

        return taken;
    }

    /// <summary>Also where the horses were merged before sharing followed, or somebody was let in at that very moment.</summary>
    private async Task<bool> SharingFollowed(string practice, Guid duplicateId, CancellationToken ct)
    {
        if (await Load<HorseSharing>(practice, HorseSharing.IdOf(duplicateId), ct) is not { } shared) return true;
        return shared.MergedInto is not null && await Load<HorseSharing>(practice, HorseSharing.IdOf(await Last(practice, duplicateId, ct)), ct) is { } there && there.Merged.Contains(duplicateId);
    }

    /// <summary>A decision that needs to know what was recorded, not only how it stands: taken again when somebody else wrote in between.</summary>
    private async Task<Outcome> OnHistory<T>(CommandContext context, Guid stream, Func<T?, IReadOnlyList<object>, Decided> decide, CancellationToken ct)
        where T : class
    {
        for (var attempt = 1; ; attempt++)
        {
            var history = await History(context.Tenant, stream, ct);
            var outcome = await commands.Execute<T>(context with { ExpectedVersion = context.ExpectedVersion ?? history.Count }, stream, state => decide(state, history), ct);
            if (outcome.Refused?.Kind != RefusalKind.Stale || context.ExpectedVersion is not null || attempt == Attempts) return outcome;
        }
    }

    private async Task<IReadOnlyList<object>> History(string practice, Guid stream, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return [.. (await session.Events.FetchStreamAsync(stream, token: ct)).Select(e => e.Data)];
    }

    /// <summary>The registration that stays may have been merged away itself since.</summary>
    private async Task<Guid> Last(string practice, Guid horseId, CancellationToken ct)
    {
        var seen = new HashSet<Guid>();
        while (seen.Add(horseId) && await Load<Horse>(practice, horseId, ct) is { MergedInto: { } next }) horseId = next;
        return horseId;
    }

    private async Task<IReadOnlyList<Guid>> SaddlesOf(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Saddle>().Where(s => !s.Withdrawn && s.MatchesSql("d.data::text like ?", $"%{horseId}%")).OrderBy(s => s.Id).Select(s => s.Id).ToListAsync(ct);
    }

    private async Task<T?> Load<T>(string practice, Guid id, CancellationToken ct)
        where T : class
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<T>(id, ct);
    }
}
