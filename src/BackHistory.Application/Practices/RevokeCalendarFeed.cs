using BackHistory.History;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Practices;

/// <summary>The address of a calendar answers no more.</summary>
public sealed class RevokeCalendarFeed(CalendarFeeds feeds) : IAct
{
    private static readonly Refused NoSuchFeed = new(
        "no-such-calendar",
        "There is no such calendar address in this practice.",
        RefusalKind.NotFound
    );

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid FeedId);

    /// <returns>Why nothing was revoked; null when it was, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var now = by.Context.Now;
        var revoked = await feeds.Change(by.Context.Tenant, input.FeedId, f => f.RevokedAt is null ? f with { RevokedAt = now } : f, ct);
        return revoked is null ? NoSuchFeed : null;
    }
}
