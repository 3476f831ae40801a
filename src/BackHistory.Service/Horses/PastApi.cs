using System.Globalization;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Horses;

/// <summary>What was known of a horse on a day, over HTTP.</summary>
public static class PastApi
{
    public static void MapPast(this IEndpointRouteBuilder api) =>
        api.MapGet("/horses/{horseId:guid}/known", Get)
            .RequireAuthorization(Policies.See)
            .WithTags("Horses")
            .WithSummary(
                "The horse as it was known at a moment: at=2026-03-03 (to the end of that day, the practice's time) or a date-time with "
                    + "its offset"
            );

    private static async Task<IResult> Get(
        HttpContext http,
        PastQueries past,
        PracticeQueries practices,
        Guid horseId,
        string? at,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        var zone = await PracticeZone.ZoneOf(practices, practice, ct);
        if (Read(at, zone) is not { } moment)
            return Problems.From(
                new Refused(
                    "bad-date",
                    "Say at which moment: at=2026-03-03, or a date-time with its offset such as 2026-03-03T18:00:00+01:00.",
                    Place: "at"
                )
            );
        return await past.Horse(practice, horseId, moment, ct) is { } known
            ? Results.Ok(PastAnswer.From(known, zone))
            : Problems.From(new Refused("not-known-yet", "Nothing was known of such a horse by then.", RefusalKind.NotFound));
    }

    private static DateTimeOffset? Read(string? at, TimeZoneInfo zone)
    {
        if (DateOnly.TryParseExact(at, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            if (day == DateOnly.MaxValue)
                return null;
            return ZoneClock.At(day.AddDays(1), TimeOnly.MinValue, zone).AddTicks(-1);
        }

        // Without an offset nobody knows which moment is meant. (A + in a query that was not encoded arrives as a space.)
        at = at?.Replace(' ', '+');
        return
            at?.Length > 6
            && (at[^1] == 'Z' || at[^6] is '+' or '-')
            && DateTimeOffset.TryParseExact(
                at,
                ["yyyy-MM-dd'T'HH:mm:ssK", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK", "yyyy-MM-dd'T'HH:mmK"],
                CultureInfo.InvariantCulture,
                DateTimeStyles.AssumeUniversal,
                out var moment
            )
            ? moment
            : null;
    }
}
