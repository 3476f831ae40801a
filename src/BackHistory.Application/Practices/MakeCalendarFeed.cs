using BackHistory.History;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Application.Practices;

/// <summary>Booked visits can be read by a calendar program from now on.</summary>
public sealed class MakeCalendarFeed(CalendarFeeds feeds, PracticeQueries practices) : IAct
{
    private const int LongestName = 80;

    public static Right Needs => Right.Enter;

    /// <param name="FitterId">Only this person's visits; null for all of the practice.</param>
    public sealed record Input(Guid FeedId, string? Name, Guid? FitterId);

    /// <returns>Why none was made; null when it was, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        if (string.IsNullOrWhiteSpace(input.Name) || input.Name.Length > LongestName)
            return new Refused("no-name", "A calendar address needs a name of up to 80 letters, to know it again.", Place: "name");
        if (input.FitterId is { } fitter && await practices.Person(by.Context.Tenant, fitter, ct) is null)
            return new Refused("no-such-fitter", "There is no such fitter in this practice.", Place: "fitterId");
        var feed = new CalendarFeed(input.FeedId, input.Name.Trim(), input.FitterId, by.Context.Actor, by.Context.Now);
        await feeds.Add(by.Context.Tenant, feed, ct);
        return null;
    }
}
