using BackHistory.History;

namespace BackHistory.Store.Reminders.Planning;

/// <summary>An address at which a calendar program reads booked visits. Whoever has it sees them, until it is revoked.</summary>
/// <param name="Fitter">Only the visits of this person; null for all of the practice.</param>
public sealed record CalendarFeed(
    Guid Id,
    string Name,
    Guid? Fitter,
    Guid MadeBy,
    DateTimeOffset MadeAt,
    DateTimeOffset? RevokedAt = null,
    DateTimeOffset? LastUsed = null
) : IVersionedDocument<CalendarFeed>
{
    /// <inheritdoc/>
    public long Version { get; init; } = 1;

    /// <inheritdoc/>
    public CalendarFeed At(long version) => this with { Version = version };
}
