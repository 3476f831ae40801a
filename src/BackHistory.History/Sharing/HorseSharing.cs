using System.Collections.Immutable;

namespace BackHistory.History.Sharing;

/// <summary>With whom one horse is shared. Kept up with its stream in the same transaction.</summary>
public sealed partial record HorseSharing : IFolded<HorseSharing>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public Guid HorseId { get; init; }

    public ImmutableSortedDictionary<Guid, Grant> Grants { get; init; } = ImmutableSortedDictionary<Guid, Grant>.Empty;

    public ImmutableSortedDictionary<Guid, SharedLink> Links { get; init; } = ImmutableSortedDictionary<Guid, SharedLink>.Empty;

    /// <summary>The second registrations whose sharing goes on here.</summary>
    public ImmutableSortedSet<Guid> Merged { get; init; } = [];

    /// <summary>The registration with which this goes on, where this one was entered twice.</summary>
    public Guid? MergedInto { get; init; }

    /// <summary>The stream of a horse's sharing.</summary>
    public static Guid IdOf(Guid horseId) => DeterministicId.From("sharing", horseId.ToString());

    /// <inheritdoc/>
    public static HorseSharing? After(HorseSharing? before, object e) =>
        (before, e) switch
        {
            (_, AccessGranted d) => (before ?? new()).Then(d),
            (_, AccessRevoked d) => (before ?? new()).Then(d),
            (_, LinkMade d) => (before ?? new()).Then(d),
            (_, LinkBound d) => (before ?? new()).Then(d),
            (_, LinkRevoked d) => (before ?? new()).Then(d),
            (_, Commented d) => (before ?? new()).Then(d),
            (_, SharingMerged d) => (before ?? new()).Then(d),
            (_, SharingMergedAway d) => (before ?? new()).Then(d),
            _ => throw UnknownEventException.In(nameof(HorseSharing), e),
        };

    private HorseSharing Then(AccessGranted e) =>
        this with
        {
            HorseId = e.HorseId,
            Grants = Grants.SetItem(e.GrantId, new Grant(e.GrantId, e.PersonId, e.Role, e.Scope, e.MayComment, e.Until, e.TakenAt, e.By)),
        };

    private HorseSharing Then(AccessRevoked e) =>
        Grants.TryGetValue(e.GrantId, out var grant)
            ? this with
            {
                Grants = Grants.SetItem(e.GrantId, grant with { RevokedAt = e.TakenAt }),
            }
            : this;

    private HorseSharing Then(LinkMade e) =>
        this with
        {
            HorseId = e.HorseId,
            Links = Links.SetItem(
                e.LinkId,
                new SharedLink(e.LinkId, e.PersonId, e.Role, e.Scope, e.MayComment, e.BindsToDevice, e.EndsAt, e.TakenAt, e.By)
            ),
        };

    private HorseSharing Then(LinkBound e) => Change(e.LinkId, link => link with { Device = e.Device, BoundAt = e.TakenAt });

    private HorseSharing Then(LinkRevoked e) => Change(e.LinkId, link => link with { RevokedAt = e.TakenAt });

    // No decision looks at it; the version counts.
    private HorseSharing Then(Commented _) => this;

    private HorseSharing Then(SharingMerged e) => this with { HorseId = e.HorseId, Merged = Merged.Add(e.DuplicateId) };

    private HorseSharing Then(SharingMergedAway e) => this with { MergedInto = e.IntoId };

    private HorseSharing Change(Guid linkId, Func<SharedLink, SharedLink> change) =>
        Links.TryGetValue(linkId, out var link) ? this with { Links = Links.SetItem(linkId, change(link)) } : this;
}
