using BackHistory.History.Horses;
using BackHistory.History.Practices;

namespace BackHistory.History.Sharing;

/// <summary>Decides what follows from a command about who sees a horse. Pure: the horse, the person and the day come in.</summary>
public static class SharingDecider
{
    private const int Most = 200;
    private const int LongestLinkDays = 90;
    private const int LongestComment = 2000;

    public static Decided Decide(HorseSharing? sharing, GrantAccess c, Horse? horse, Person? person, DateOnly today, DateTimeOffset now)
    {
        if (Closed(sharing, horse) is { } closed)
            return closed;
        if (person is null)
            return SharingRefusals.NoSuchPerson;
        if (string.IsNullOrWhiteSpace(person.Email))
            return SharingRefusals.NoAddress;
        if (c.Until < today)
            return SharingRefusals.InThePast;
        if (c.Role == SharedWith.Owner && horse!.OwnerId != person.Id)
            return SharingRefusals.NotTheOwner;
        if (Standing(sharing, horse!, today, now) >= Most)
            return SharingRefusals.TooMany;
        return sharing?.Grants.Values.Any(g => g.PersonId == person.Id && g.Role == c.Role && g.Holds(today, horse!.OwnerId)) == true
            ? SharingRefusals.GrantedAlready
            : Decided.Yes(new AccessGranted(c.GrantId, horse!.Id, person.Id, c.Role, c.Scope, c.MayComment, c.Until, now, c.By));
    }

    public static Decided Decide(HorseSharing? sharing, RevokeAccess c, DateTimeOffset now)
    {
        if (sharing is null || !sharing.Grants.TryGetValue(c.GrantId, out var grant))
            return SharingRefusals.NoSuchGrant;
        if (sharing.MergedInto is { } into)
            return HorseRefusals.MergedAway(into);
        // Taken back twice is taken back.
        return grant.RevokedAt is not null
            ? Decided.Yes()
            : Decided.Yes(new AccessRevoked(c.GrantId, sharing.HorseId, Clean(c.Reason), now, c.By));
    }

    public static Decided Decide(HorseSharing? sharing, MakeLink c, Horse? horse, Person? person, DateOnly today, DateTimeOffset now)
    {
        if (Closed(sharing, horse) is { } closed)
            return closed;
        if (c.Days is < 1 or > LongestLinkDays)
            return SharingRefusals.BadDays;
        if (c.Role == SharedWith.Owner && horse!.OwnerId is { } owner && person?.Id != owner)
            return SharingRefusals.NotTheOwner;
        if (Standing(sharing, horse!, today, now) >= Most)
            return SharingRefusals.TooMany;
        return Decided.Yes(
            new LinkMade(c.LinkId, horse!.Id, person?.Id, c.Role, c.Scope, c.MayComment, c.BindsToDevice, now.AddDays(c.Days), now, c.By)
        );
    }

    public static Decided Decide(HorseSharing? sharing, BindLink c, DateTimeOffset now)
    {
        if (sharing is null || !sharing.Links.TryGetValue(c.LinkId, out var link))
            return SharingRefusals.NoSuchLink;
        if (!link.BindsToDevice || link.Device == c.Device)
            return Decided.Yes();
        return link.Device is not null
            ? SharingRefusals.BoundElsewhere
            : Decided.Yes(new LinkBound(c.LinkId, sharing.HorseId, c.Device, now, c.By));
    }

    public static Decided Decide(HorseSharing? sharing, RevokeLink c, DateTimeOffset now)
    {
        if (sharing is null || !sharing.Links.TryGetValue(c.LinkId, out var link))
            return SharingRefusals.NoSuchLink;
        if (sharing.MergedInto is { } into)
            return HorseRefusals.MergedAway(into);
        return link.RevokedAt is not null
            ? Decided.Yes()
            : Decided.Yes(new LinkRevoked(c.LinkId, sharing.HorseId, Clean(c.Reason), now, c.By));
    }

    /// <summary>The caller has seen that the grant or the link holds today, for today's owner; what was taken back since is seen
    /// here.</summary>
    public static Decided Decide(HorseSharing? sharing, MakeComment c, DateTimeOffset now)
    {
        if (sharing is null)
            return SharingRefusals.NoSuchGrant;
        var may = c.GrantId is { } grant
            ? sharing.Grants.GetValueOrDefault(grant) is { MayComment: true, RevokedAt: null }
            : c.LinkId is { } link
                && sharing.Links.GetValueOrDefault(link) is { MayComment: true, RevokedAt: null } made
                && now < made.EndsAt;
        if (!may)
            return SharingRefusals.MayNotComment;
        if (OfWords(c.Words) is { } bad)
            return bad;
        return Decided.Yes(new Commented(c.CommentId, sharing.HorseId, c.GrantId, c.LinkId, now, c.By));
    }

    /// <summary>The horse was a second registration: nothing is given or taken back here any more.</summary>
    public static Decided Decide(HorseSharing? sharing, MergeSharingAway c, DateTimeOffset now) =>
        sharing is null or { MergedInto: not null }
            ? Decided.Yes()
            : Decided.Yes(new SharingMergedAway(sharing.HorseId, c.IntoId, now, c.By));

    /// <summary>What was given of the second registration holds on, as it was given: by whom, when, until when; and what was taken back
    /// stays so.</summary>
    /// <param name="history">All events of the sharing of the second registration.</param>
    public static Decided Decide(HorseSharing? sharing, TakeInSharing c, IReadOnlyList<object> history, DateTimeOffset now)
    {
        if (sharing?.MergedInto is { } into)
            return HorseRefusals.MergedAway(into);
        if (sharing?.Merged.Contains(c.DuplicateId) == true)
            return Decided.Yes();
        return Decided.Yes([
            new SharingMerged(c.DuplicateId, c.HorseId, now, c.By),
            .. history.Select(e => Again(e, c.HorseId)).OfType<ISharingEvent>(),
        ]);
    }

    private static ISharingEvent? Again(object e, Guid horseId) =>
        e switch
        {
            AccessGranted d => d with { HorseId = horseId },
            AccessRevoked d => d with { HorseId = horseId },
            LinkMade d => d with { HorseId = horseId },
            LinkBound d => d with { HorseId = horseId },
            LinkRevoked d => d with { HorseId = horseId },
            Commented d => d with { HorseId = horseId },
            SharingMerged d => d with { HorseId = horseId },
            // That the second registration is closed is its own history, not the horse's.
            SharingMergedAway => null,
            _ => throw UnknownEventException.In(nameof(TakeInSharing), e),
        };

    private static Refused? Closed(HorseSharing? sharing, Horse? horse) =>
        HorseRefusals.OfHorse(horse) ?? (sharing?.MergedInto is { } into ? HorseRefusals.MergedAway(into) : null);

    public static Refused? OfWords(string? words) =>
        string.IsNullOrWhiteSpace(words) || words.Length > LongestComment ? SharingRefusals.BadWords : null;

    private static int Standing(HorseSharing? sharing, Horse horse, DateOnly today, DateTimeOffset now) =>
        sharing is null
            ? 0
            : sharing.Grants.Values.Count(g => g.Holds(today, horse.OwnerId))
                + sharing.Links.Values.Count(l => l.Holds(now, horse.OwnerId));

    private static string? Clean(string? reason) =>
        string.IsNullOrWhiteSpace(reason) ? null : reason.Trim()[..Math.Min(reason.Trim().Length, 300)];
}
