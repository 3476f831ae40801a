using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Calendars;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.Planning;

namespace BackHistory.Service.Reminders;

/// <summary>Booked visits for calendar programs.</summary>
public static class CalendarFeedsApi
{
    private static readonly TimeSpan VisitTakes = TimeSpan.FromHours(1);

    public static void MapCalendarFeeds(this IEndpointRouteBuilder api)
    {
        var feeds = api.MapGroup("/calendar-feeds").WithTags("Plan");
        feeds
            .MapGet("/", All)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("Calendar addresses, revoked ones too; the addresses themselves are not shown again");
        feeds
            .MapPost("/", Make)
            .Needs<MakeCalendarFeed>()
            .WithSummary("Make an address for a calendar program")
            .Accepts<FeedRequest>("application/json");
        feeds.MapDelete("/{feedId:guid}", Revoke).Needs<RevokeCalendarFeed>().WithSummary("Revoke an address: it answers no more");
    }

    // Open by nature: calendar programs do not sign in. The sealed address is what lets its holder in, to these visits, until it is
    // revoked.
    public static void MapCalendars(this WebApplication app) =>
        app.MapGet("/calendar/{token}", Read).AllowAnonymous().ExcludeFromDescription();

    private static async Task<IResult> All(HttpContext http, CalendarFeeds feeds, CancellationToken ct) =>
        Results.Ok(
            (await feeds.All(SignedIn.From(http.User).Practice, ct)).Select(f => new FeedAnswer(
                f.Id,
                f.Name,
                f.Fitter,
                f.MadeAt,
                f.RevokedAt,
                f.LastUsed
            ))
        );

    private static Task<IResult> Make(
        HttpContext http,
        CommandRunner runner,
        MakeCalendarFeed make,
        FeedAddresses addresses,
        CancellationToken ct
    )
    {
        var id = NewIds.IdFor(http, "calendar");
        return runner.Act<FeedRequest>(
            http,
            (r, by) => make.Do(new MakeCalendarFeed.Input(id, r.Name, r.FitterId), by, ct),
            _ => Results.Created($"/api/calendar-feeds/{id}", new FeedMade(id, addresses.AddressOf(SignedIn.From(http.User).Practice, id))),
            creates: true
        );
    }

    private static async Task<IResult> Revoke(
        HttpContext http,
        RevokeCalendarFeed revoke,
        Guid feedId,
        TimeProvider time,
        CancellationToken ct
    ) =>
        (await revoke.Do(new RevokeCalendarFeed.Input(feedId), Callers.ByPress(http, time), ct)).Refused is { } no
            ? Problems.From(no)
            : Results.NoContent();

    private static async Task<IResult> Read(
        string token,
        FeedAddresses addresses,
        CalendarFeeds feeds,
        ReminderQueries reminders,
        PracticeQueries practices,
        AccountDocuments accounts,
        TimeProvider time,
        CancellationToken ct
    )
    {
        if (addresses.Read(token) is not { } place || await feeds.Load(place.Practice, place.FeedId, ct) is not { RevokedAt: null } feed)
            return Results.NotFound();
        // It shows what its maker may see, as long as they may make one.
        if (await accounts.RoleOf(place.Practice, feed.MadeBy, ct) is not >= PracticeRole.Apprentice)
            return Results.NotFound();
        var now = time.GetUtcNow();
        var booked = (await reminders.Booked(place.Practice, now.AddDays(-60), now.AddYears(1), ct))
            .Where(r => feed.Fitter is null || r.Fitter is null || r.Fitter == feed.Fitter)
            .DistinctBy(r => r.BookingId)
            .ToList();
        var horses = await reminders.Horses(place.Practice, booked.Select(r => r.HorseId), ct);
        var yards = (await practices.Yards(place.Practice, ct)).ToDictionary(y => y.Id);
        // A day is enough to see whether an address is in use; a write at every reading would be a write every few minutes.
        if (feed.LastUsed is not { } used || now - used > TimeSpan.FromDays(1))
            await feeds.Change(place.Practice, feed.Id, f => f with { LastUsed = now }, ct);
        return Results.Text(
            PracticeCalendar.Feed(feed.Name, booked.Select(r => Entry(r, horses, yards, now))),
            "text/calendar; charset=utf-8"
        );
    }

    private static Appointment Entry(
        Reminder r,
        IReadOnlyDictionary<Guid, History.Profiles.HorseProfile> horses,
        Dictionary<Guid, Yard> yards,
        DateTimeOffset now
    )
    {
        var horse = horses.GetValueOrDefault(r.HorseId);
        var yard = horse?.YardId is { } id ? yards.GetValueOrDefault(id) : null;
        return new Appointment
        {
            Id = r.BookingId!.Value,
            Version = r.BookingSequence,
            Start = r.BookedFor!.Value,
            End = r.BookedFor.Value + VisitTakes,
            ChangedAt = now,
            Summary = horse?.Name ?? "Visit",
            Place =
                yard is null ? ""
                : yard.Town is null ? yard.Name
                : $"{yard.Name}, {yard.Town}",
            Notes = r.Evidence.Sentence,
        };
    }
}
