using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Practices;

/// <summary>Booked visits can be read by a calendar program from now on.</summary>
public sealed class MakeCalendarFeed(Commands commands) : IAct
{
    private const int LongestName = 80;

    private static readonly Refused NoName = new(
        "no-name",
        "A calendar address needs a name of up to 80 letters, to know it again.",
        Place: "name"
    );

    private static readonly Refused NoSuchFitter = new("no-such-fitter", "There is no such fitter in this practice.", Place: "fitterId");

    public static Right Needs => Right.Enter;

    /// <param name="FitterId">Only this person's visits; null for all of the practice.</param>
    public sealed record Input(Guid FeedId, string? Name, Guid? FitterId);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (ReadableName.IsMissing(input.Name) || input.Name.Length > LongestName)
            return new Outcome(input.FeedId, 0, 0, NoName);
        var feed = new CalendarFeed(input.FeedId, input.Name.Trim(), input.FitterId, by.Context.Actor, by.Context.Now);
        return await commands.ExecuteOnDocument<CalendarFeed>(
            by.Context with
            {
                ExpectedVersion = null,
            },
            input.FeedId,
            async held =>
            {
                var known = input.FitterId is not { } fitter || await held.Document<Person>(fitter) is not null;
                return made =>
                    !known ? new DecidedDocument<CalendarFeed>(NoSuchFitter)
                    : made is not null ? new DecidedDocument<CalendarFeed>(made, null)
                    : new DecidedDocument<CalendarFeed>(feed, by.Note(AuditWords.CalendarMade, feed.Id, []));
            },
            ct
        );
    }
}
