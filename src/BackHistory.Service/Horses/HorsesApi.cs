using BackHistory.Application.Horses;
using BackHistory.Application.Reminders;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Horses;

/// <summary>Horses over HTTP.</summary>
public static class HorsesApi
{
    public static void MapHorses(this IEndpointRouteBuilder api)
    {
        var horses = api.MapGroup("/horses").WithTags("Horses");
        horses.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Horses by name, a page at a time");
        horses.MapPost("/", Register).Needs<EnterHorse>().WithSummary("Register a horse").Accepts<HorseRequest>("application/json");
        horses.MapGet("/{horseId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One horse");
        horses
            .MapPut("/{horseId:guid}", Correct)
            .Needs<DescribeHorse>()
            .WithSummary("Correct a horse's details")
            .Accepts<HorseRequest>("application/json");
        horses
            .MapGet("/{horseId:guid}/timeline", Timeline)
            .RequireAuthorization(Policies.See)
            .WithSummary("Everything that happened, newest first");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(string Name, Guid Id)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var size = Paging.Size(limit);
        var rows = await horses.ByName(SignedIn.From(http.User).Practice, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, h => (h.Name, h.Id)));
    }

    private static Task<IResult> Register(HttpContext http, CommandRunner runner, EnterHorse enter, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "horse");
        return runner.Act<HorseRequest>(
            http,
            (r, by) => enter.Do(new EnterHorse.Input(id, r.Details, r.OwnerId, r.YardId), by, ct),
            outcome => Results.Created($"/api/horses/{outcome.StreamId}", new HorseCreated(outcome.StreamId, outcome.Version)),
            creates: true
        );
    }

    private static async Task<IResult> Get(HttpContext http, HorseQueries horses, SetAsideQueries aside, Guid horseId, CancellationToken ct)
    {
        var practice = SignedIn.From(http.User).Practice;
        var horse = await horses.Load(practice, horseId, ct);
        if (horse is null)
            return Problems.From(HorseRefusals.NoSuchHorse);
        http.Response.Headers.ETag = $"\"{horse.Version}\"";
        var goesOnIn = await horses.GoesOnIn(practice, horse.MergedInto, ct);
        return Results.Ok(HorseAnswer.From(horse, await aside.SetAsideIn(practice, horseId, ct), goesOnIn));
    }

    private static Task<IResult> Correct(
        HttpContext http,
        CommandRunner runner,
        DescribeHorse describe,
        Guid horseId,
        CancellationToken ct
    ) =>
        runner.Act<HorseRequest>(
            http,
            (r, by) => describe.Do(new DescribeHorse.Input(horseId, r.Details, r.Reason ?? "", r.OwnerId, r.YardId), by, ct),
            outcome => Results.Ok(new HorseCreated(outcome.StreamId, outcome.Version))
        );

    private static async Task<IResult> Timeline(
        HttpContext http,
        HorseQueries horses,
        PracticeQueries practices,
        Guid horseId,
        string? after,
        int? limit,
        CancellationToken ct
    )
    {
        var (cursor, bad) = Paging.Read<(DateTimeOffset At, long Sequence)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var size = Paging.Size(limit);
        var practice = SignedIn.From(http.User).Practice;
        var entries = await horses.Timeline(practice, horseId, cursor, size + 1, ct);
        if (entries is null)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var zone = await PracticeZone.ZoneOf(practices, practice, ct);
        return Results.Ok(Paging.Page([.. entries.Select(t => TimelineAnswer.From(t, zone))], size, e => (e.TakenAt, e.Sequence)));
    }
}
