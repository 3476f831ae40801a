using System.Globalization;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Caseload;

/// <summary>The caseload over HTTP.</summary>
public static class CaseloadApi
{
    public static void MapCaseload(this IEndpointRouteBuilder api)
    {
        api.MapGet("/caseload", List)
            .RequireAuthorization(Policies.See)
            .WithTags("Caseload")
            .WithSummary("One row a horse, most urgent first; a page at a time");
    }

    private static async Task<IResult> List(
        HttpContext http,
        BackHistory.Store.Horses.Caseload caseload,
        string? state,
        string? q,
        Guid? yard,
        bool? reminder,
        string? sort,
        string? after,
        int? limit,
        CancellationToken ct
    )
    {
        var (filter, bad) = CaseloadQueryString.Read(state, q, yard, reminder, sort);
        if (bad is not null)
            return Problems.From(bad);
        var (place, unreadable) = CaseloadQueryString.Place(after, filter!.Order);
        if (unreadable is not null)
            return Problems.From(unreadable);
        var page = await caseload.Page(SignedIn.From(http.User).Practice, filter!, place, Paging.Size(limit), ct);
        return Results.Ok(
            new Page<CaseloadAnswer>([.. page.Rows.Select(Answer)], page.Next is null ? null : CaseloadQueryString.Write(page.Next))
        );
    }

    private static CaseloadAnswer Answer(CaseloadRow row)
    {
        var driver = row.Assessment?.Worst?.Decision.Driver;
        return new CaseloadAnswer(
            row.Horse.Id,
            row.Horse.Name,
            row.Assessment?.State ?? WatchState.Unknown,
            row.Assessment?.Worst?.Decision.P,
            driver?.Measure,
            driver?.Station,
            driver?.Alone?.Change,
            driver?.Alone?.Sd,
            driver?.Threshold,
            driver?.Unit,
            row.Horse.LastVisit,
            row.Assessment?.NextCheckDue,
            [.. row.Horse.Reminders.Values.Select(r => r.State)],
            row.Horse.OwnerId,
            row.Horse.YardId
        );
    }
}

/// <summary>The caseload's filter as it stands in the address bar.</summary>
internal static class CaseloadQueryString
{
    public static (CaseloadFilter? Filter, Refused? Refused) Read(string? state, string? q, Guid? yard, bool? reminder, string? sort)
    {
        var states = new List<WatchState>();
        foreach (var word in (state ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!Enum.TryParse<WatchState>(word, ignoreCase: true, out var one) || !Enum.IsDefined(one))
                return (null, new Refused("unknown-state", $"'{word}' is no state. Known: refit, unknown, watch, steady.", Place: "state"));
            states.Add(one);
        }

        CaseloadOrder? order = sort switch
        {
            null or "" or "urgency" => CaseloadOrder.Urgency,
            "name" => CaseloadOrder.Name,
            "last-visit" => CaseloadOrder.LastVisit,
            _ => null,
        };
        return order is { } known
            ? (new CaseloadFilter(states, q, yard, reminder, known), null)
            : (null, new Refused("unknown-order", $"'{sort}' is no order. Known: urgency, name, last-visit.", Place: "sort"));
    }

    /// <param name="order">A place holds in the order in which it was given out; by the last visit its key is a day.</param>
    public static (CaseloadPlace? Place, Refused? Refused) Place(string? after, CaseloadOrder order)
    {
        var (cursor, refused) = Paging.Read<(string Key, Guid Id)>(after);
        if (refused is not null || cursor is not var (key, id))
            return (null, refused);
        return order == CaseloadOrder.LastVisit && !DateOnly.TryParseExact(key, "yyyy-MM-dd", CultureInfo.InvariantCulture, default, out _)
            ? (null, Paging.NotOurs)
            : (new CaseloadPlace(key, id), null);
    }

    public static string Write(CaseloadPlace place) => Paging.Write((place.Key, place.Id));
}
