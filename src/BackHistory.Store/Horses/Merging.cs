using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.Store.Audit;
using Marten;
using Marten.Linq.MatchesSql;

namespace BackHistory.Store.Horses;

/// <summary>
/// Merges what was entered twice. The two registrations change in one transaction: the second is closed and the other takes in what
/// stands, or neither; so nobody sees, and no other merge or withdrawal decides by, a history that is in neither of them. Its saddles
/// follow, and whoever was let see it, each by a step of its own. Interrupted between those, or where somebody used the closed
/// registration at that very moment, the next <see cref="FinishAll"/> goes on.
/// </summary>
public sealed class Merging(IDocumentStore store, Commands commands)
{
    private const int Attempts = 4;

    private readonly MergedReminders _reminders = new(store, commands);

    /// <summary>Merges a second registration into the one that stays.</summary>
    /// <returns>The outcome for the registration that stays, or why nothing was done.</returns>
    public async Task<Outcome> Horses(CommandContext context, Guid duplicateId, Guid intoId, string reason, CancellationToken ct)
    {
        var command = new MergeAway(intoId, reason, context.Actor);
        var merged =
            duplicateId == intoId
                ? await commands.Execute<Horse>(context, duplicateId, h => HorseDecider.Decide(h, command, h, context.Now), ct)
                : await commands.ExecuteOnBoth<Horse>(
                    context,
                    duplicateId,
                    intoId,
                    (h, into, history) => HorseDecider.Decide(h, command, into, history, context.Now),
                    ct
                );
        if (merged.Refused is not null)
            return merged;
        await Follow(context.Tenant, duplicateId, await SaddlesOn(context.Tenant, [duplicateId], ct), context.Now, ct);
        return merged;
    }

    /// <summary>Goes on with what was interrupted.</summary>
    /// <returns>For how many second registrations something was done.</returns>
    public async Task<int> FinishAll(string practice, DateTimeOffset now, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var away = await session.Query<Horse>().Where(h => h.MergedInto != null).ToListAsync(ct);
        if (away.Count == 0)
            return 0;
        var saddles = await SaddlesOn(practice, [.. away.Select(h => h.Id)], ct);
        var finished = 0;
        foreach (var duplicate in away)
        {
            if (await TakenIn(practice, duplicate, ct) is not { } taken)
                continue;
            var behind = saddles.Where(s => s.StandsOn(duplicate.Id)).ToList();
            if (
                taken
                && behind.Count == 0
                && await SharingFollowed(practice, duplicate.Id, ct)
                && await Numbers(practice, duplicate.Id, ct) is null
                && !await _reminders.AnyBehind(practice, duplicate.Id, await Last(practice, duplicate.Id, ct), ct)
            )
                continue;
            // What was taken in once may have been corrected there since: it is not taken in again further on.
            var refused = taken ? null : await TakeIn(practice, duplicate.Id, now, ct);
            if ((refused ?? await Follow(practice, duplicate.Id, behind, now, ct)) is null)
                finished++;
        }

        return finished;
    }

    /// <summary>Merges a visit that was entered twice.</summary>
    public Task<Outcome> Visits(
        CommandContext context,
        Guid horseId,
        Guid visitId,
        Guid intoVisitId,
        string reason,
        CancellationToken ct
    ) =>
        commands.ExecuteOnHistory<Horse>(
            context,
            horseId,
            _ =>
                Task.FromResult<Func<Horse?, IReadOnlyList<object>, Decided>>(
                    (h, history) =>
                        HorseDecider.Decide(h, new MergeVisit(visitId, intoVisitId, reason, context.Actor), history, context.Now)
                ),
            ct
        );

    /// <summary>Of a merge by an earlier release that was interrupted: the second registration is closed, and its history went nowhere
    /// yet.</summary>
    private async Task<Refused?> TakeIn(string practice, Guid duplicateId, DateTimeOffset now, CancellationToken ct)
    {
        var history = await History(practice, duplicateId, ct);
        var merged = history.OfType<HorseMergedAway>().Last();
        var intoId = await Last(practice, merged.IntoId, ct);
        var command = new TakeIn(duplicateId, merged.Reason, merged.By);
        var step = Step(practice, duplicateId, merged.By, "into", now);
        return (await commands.Execute<Horse>(step, intoId, h => HorseDecider.Decide(h, command, history, now), ct)).Refused;
    }

    /// <summary>What hangs on the second registration goes to the one that stays.</summary>
    /// <returns>Why something was left behind, for now; null when nothing was.</returns>
    private async Task<Refused?> Follow(
        string practice,
        Guid duplicateId,
        IReadOnlyList<Saddle> saddles,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var merged = (await History(practice, duplicateId, ct)).OfType<HorseMergedAway>().Last();
        foreach (var saddle in saddles)
        {
            if (await FollowedBy(practice, saddle, duplicateId, merged, now, ct) is { } refused)
                return refused;
        }

        return await _reminders.Follow(
                duplicateId,
                await Last(practice, merged.IntoId, ct),
                merged,
                name => Step(practice, duplicateId, merged.By, name, now),
                ct
            )
            ?? await Identify(practice, duplicateId, merged, now, ct)
            ?? (await Share(practice, duplicateId, now, ct)).Refused;
    }

    /// <summary>Its microchip and passport: what the registration that stays lacks becomes its own, what says something else stands beside
    /// it; and nothing stands at the closed one, where nobody could erase it.</summary>
    private async Task<Refused?> Identify(
        string practice,
        Guid duplicateId,
        HorseMergedAway merged,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (await Numbers(practice, duplicateId, ct) is not { } second)
            return null;
        var intoId = await Last(practice, merged.IntoId, ct);
        var taken = await commands.ExecuteOnDocument<HorseIdentity>(
            Step(practice, duplicateId, merged.By, $"identity:{intoId}:{second.Version}", now),
            intoId,
            _ =>
                Task.FromResult<Func<HorseIdentity?, DecidedDocument<HorseIdentity>>>(found =>
                    new((found ?? new HorseIdentity(intoId)).Taking(second), Noted(practice, intoId, duplicateId, merged.By, now))
                ),
            ct
        );
        if (taken.Refused is { } refused)
            return refused;
        var away = await commands.ExecuteOnDocument<HorseIdentity>(
            Step(practice, duplicateId, merged.By, $"identity-away:{second.Version}", now) with
            {
                ExpectedVersion = second.Version,
            },
            duplicateId,
            _ =>
                Task.FromResult<Func<HorseIdentity?, DecidedDocument<HorseIdentity>>>(found =>
                    new(
                        (found ?? second) with
                        {
                            Microchip = null,
                            Passport = null,
                            Further = [],
                        },
                        Noted(practice, duplicateId, duplicateId, merged.By, now)
                    )
                ),
            ct
        );
        return away.Refused;
    }

    private static AuditNote Noted(string practice, Guid of, Guid duplicateId, Guid by, DateTimeOffset now) =>
        new(
            DeterministicId.From(
                "audit note",
                practice,
                "identity merged",
                of.ToString(),
                duplicateId.ToString(),
                now.ToString("O", CultureInfo.InvariantCulture)
            ),
            now,
            AuditWords.IdentityChanged,
            by,
            of
        )
        {
            About = of,
            Detail = "microchip, passport",
        };

    /// <summary>By what a second registration is told; null where by nothing, or no more.</summary>
    private async Task<HorseIdentity?> Numbers(string practice, Guid duplicateId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<HorseIdentity>(duplicateId, ct) is { IsEmpty: false } known ? known : null;
    }

    /// <summary>The registration that stays may be merged away itself at that moment: then the saddle goes on to the next.</summary>
    private async Task<Refused?> FollowedBy(
        string practice,
        Saddle saddle,
        Guid duplicateId,
        HorseMergedAway merged,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        // By its version: set to the second registration once more, at the moment of the merge, it follows once more.
        var step = Step(practice, duplicateId, merged.By, $"saddle:{saddle.Id}:{saddle.Version}", now);
        for (var attempt = 1; ; attempt++)
        {
            var intoId = await Last(practice, merged.IntoId, ct);
            var command = new FollowMerge(duplicateId, intoId, merged.Reason, merged.By);
            var outcome = await commands.ExecuteOnHistory<Saddle>(
                step,
                saddle.Id,
                async held =>
                {
                    var into = await held.Stream<Horse>(intoId);
                    return (s, done) => into?.MergedInto is null ? SaddleDecider.Decide(s, command, done, now) : MovedOn;
                },
                ct
            );
            if (outcome.Refused != MovedOn || attempt == Attempts)
                return outcome.Refused;
        }
    }

    private static readonly Refused MovedOn = new("moved-on", "The registration that stays was merged itself.", RefusalKind.Conflict);

    /// <summary>Grants and links of the second registration hold for the one that stays. What nobody shared needs no step.</summary>
    private async Task<Outcome> Share(string practice, Guid duplicateId, DateTimeOffset now, CancellationToken ct)
    {
        var merged = (await History(practice, duplicateId, ct)).OfType<HorseMergedAway>().Last();
        var intoId = await Last(practice, merged.IntoId, ct);
        var (from, into) = (HorseSharing.IdOf(duplicateId), HorseSharing.IdOf(intoId));
        if (await Load<HorseSharing>(practice, from, ct) is null)
            return new Outcome(into, 0, 0, null);
        var closed = await commands.Execute<HorseSharing>(
            Step(practice, duplicateId, merged.By, "sharing-away", now),
            from,
            s => SharingDecider.Decide(s, new MergeSharingAway(intoId, merged.By), now),
            ct
        );
        if (closed.Refused is not null)
            return closed;
        var history = await History(practice, from, ct);
        return await commands.Execute<HorseSharing>(
            Step(practice, duplicateId, merged.By, "sharing", now),
            into,
            s => SharingDecider.Decide(s, new TakeInSharing(duplicateId, intoId, merged.By), history, now),
            ct
        );
    }

    private static CommandContext Step(string practice, Guid duplicateId, Guid by, string name, DateTimeOffset now) =>
        new(practice, by, $"merge:{duplicateId}:{name}", "", null, now);

    /// <summary>Whether the history of a second registration went on in the one that stays, or in one on the way there; null where there
    /// is none.</summary>
    private async Task<bool?> TakenIn(string practice, Horse duplicate, CancellationToken ct)
    {
        bool? taken = null;
        var seen = new HashSet<Guid>();
        for (var next = duplicate.MergedInto; next is { } id && seen.Add(id); )
        {
            if (await Load<Horse>(practice, id, ct) is not { } into)
                break;
            taken = taken == true || into.Merged.Contains(duplicate.Id);
            next = into.MergedInto;
        }

        return taken;
    }

    /// <summary>Also where the horses were merged before sharing followed, or somebody was let in at that very moment.</summary>
    private async Task<bool> SharingFollowed(string practice, Guid duplicateId, CancellationToken ct)
    {
        if (await Load<HorseSharing>(practice, HorseSharing.IdOf(duplicateId), ct) is not { } shared)
            return true;
        return shared.MergedInto is not null
            && await Load<HorseSharing>(practice, HorseSharing.IdOf(await Last(practice, duplicateId, ct)), ct) is { } there
            && there.Merged.Contains(duplicateId);
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
        while (seen.Add(horseId) && await Load<Horse>(practice, horseId, ct) is { MergedInto: { } next })
            horseId = next;
        return horseId;
    }

    /// <summary>The saddles on which something of these horses still stands. Ids are looked for in the whole text first: documents that
    /// name none need not be read.</summary>
    private async Task<IReadOnlyList<Saddle>> SaddlesOn(string practice, IReadOnlyList<Guid> horses, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var named = await session
            .Query<Saddle>()
            .Where(s => !s.Withdrawn && s.MatchesSql("d.data::text ~ ?", string.Join('|', horses.Select(h => h.ToString()))))
            .OrderBy(s => s.Id)
            .ToListAsync(ct);
        return [.. named.Where(s => horses.Any(s.StandsOn))];
    }

    private async Task<T?> Load<T>(string practice, Guid id, CancellationToken ct)
        where T : class, IFolded<T>
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<T>(id, ct);
    }
}
