using System.Collections.Immutable;

namespace BackHistory.History.Horses;

/// <summary>A visit as decisions see it; <c>Entries</c> maps an entry to whether it stands.</summary>
public sealed record VisitState(DateTimeOffset TakenAt, Guid By)
{
    public bool Withdrawn { get; init; }

    /// <summary>An apprentice entered it, and nobody has confirmed it yet.</summary>
    public bool AwaitsConfirmation { get; init; }

    public ImmutableSortedDictionary<Guid, bool> Entries { get; init; } = ImmutableSortedDictionary<Guid, bool>.Empty;
}
