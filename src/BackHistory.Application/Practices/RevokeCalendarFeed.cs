using BackHistory.History;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Practices;

/// <summary>The address of a calendar answers no more.</summary>
public sealed class RevokeCalendarFeed(Commands commands) : IAct
{
    private static readonly Refused NoSuchFeed = new(
        "no-such-calendar",
        "There is no such calendar address in this practice.",
        RefusalKind.NotFound
    );

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid FeedId);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        commands.ExecuteOnDocument<CalendarFeed>(
            by.Context,
            input.FeedId,
            _ =>
                Task.FromResult<Func<CalendarFeed?, DecidedDocument<CalendarFeed>>>(feed =>
                    feed is null ? new DecidedDocument<CalendarFeed>(NoSuchFeed)
                    : feed.RevokedAt is not null ? new DecidedDocument<CalendarFeed>(feed, null)
                    : new DecidedDocument<CalendarFeed>(
                        feed with
                        {
                            RevokedAt = by.Context.Now,
                        },
                        by.Note(AuditWords.CalendarRevoked, feed.Id, [])
                    )
                ),
            ct
        );
}
