using BackHistory.History;
using BackHistory.History.Saddles;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Saddles;

namespace BackHistory.Service.Saddles;

public sealed record SaddleRequest(
    string Label,
    string? Tree,
    string? Panel,
    string? Girthing,
    string? Gauge,
    Guid? OwnerId,
    string? Reason
)
{
    public SaddleDetails Details => new(Label, Tree, Panel, Girthing, Gauge);
}

/// <param name="Kind">set, altered or flocked.</param>
/// <param name="VisitId">The visit whose shape it was made to.</param>
/// <param name="Fresh">A new saddle, or one that was re-flocked.</param>
/// <param name="Flocking">With what it was flocked, wholly or in places; only where it was.</param>
public sealed record WorkRequest(
    string Kind,
    Guid HorseId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid? By,
    bool Fresh,
    IReadOnlyList<Adjustment>? Done,
    Flocking? Flocking = null
)
{
    internal Refused? Problem() =>
        Kind is not ("set" or "altered" or "flocked") ? new Refused("unknown-kind", "A saddle was set, altered or flocked.", Place: "kind")
        : Kind == "flocked" != Flocking is not null
            ? new Refused("no-material", "Flocking names its material; other work has none.", Place: "flocking")
        : null;

    internal RecordWork Command(Guid workId, Guid actor) =>
        new(workId, HorseId, VisitId, Kind == "set", Fresh, Done ?? [], TakenAt, By ?? actor, Flocking);
}

public sealed record SaddleWithdrawal(string Reason);

public sealed record TakeOffRequest(Guid HorseId, string Reason, DateTimeOffset? At = null);

public sealed record SaddleWritten(Guid Id, long Version, Guid? WorkId = null);

/// <summary>Saddles and the work on them over HTTP.</summary>
public static class SaddlesApi
{
    public static void MapSaddles(this IEndpointRouteBuilder api)
    {
        var saddles = api.MapGroup("/saddles").WithTags("Saddles");
        saddles.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Saddles by label, a page at a time");
        saddles
            .MapPost("/", Register)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Register a saddle")
            .Accepts<SaddleRequest>("application/json");
        saddles.MapGet("/{saddleId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One saddle with all its work");
        saddles
            .MapPut("/{saddleId:guid}", Correct)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Correct a saddle's details")
            .Accepts<SaddleRequest>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/work", Work)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Record that it was set or altered")
            .Accepts<WorkRequest>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/work/{workId:guid}/withdraw", Withdraw)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Withdraw a piece of work")
            .Accepts<SaddleWithdrawal>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/take-off", TakeOff)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The saddle is no longer used on a horse")
            .Accepts<TakeOffRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, SaddleQueries saddles, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(string Label, Guid Id)>(after);
        if (bad is not null)
            return Problems.Of(bad);
        var size = Paging.Size(limit);
        var rows = await saddles.ByLabel(SignedIn.From(http.User).Practice, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, s => (s.Label, s.Id)));
    }

    private static async Task<IResult> Register(HttpContext http, CommandRunner runner, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<SaddleRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var id = NewIds.Of(http, "saddle");
        return await runner.Run<Saddle>(
            http,
            id,
            body,
            creates: true,
            (saddle, c) => SaddleDecider.Decide(saddle, new RegisterSaddle(id, r!.Details, r.OwnerId, c.Now, c.Actor)),
            (outcome, _) => Results.Created($"/api/saddles/{outcome.StreamId}", new SaddleWritten(outcome.StreamId, outcome.Version))
        );
    }

    private static async Task<IResult> Get(HttpContext http, SaddleQueries saddles, Guid saddleId, CancellationToken ct)
    {
        var saddle = await saddles.Load(SignedIn.From(http.User).Practice, saddleId, ct);
        if (saddle is null)
            return Problems.Of(SaddleRefusals.NoSuchSaddle);
        http.Response.Headers.ETag = $"\"{saddle.Version}\"";
        return Results.Ok(saddle);
    }

    private static async Task<IResult> Correct(HttpContext http, CommandRunner runner, Guid saddleId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<SaddleRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => SaddleDecider.Decide(saddle, new CorrectSaddle(r!.Details, r.Reason ?? "", c.Actor), c.Now),
            (outcome, _) => Results.Ok(new SaddleWritten(outcome.StreamId, outcome.Version))
        );
    }

    private static async Task<IResult> Work(
        HttpContext http,
        CommandRunner runner,
        HorseQueries horses,
        Guid saddleId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<WorkRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        if (r!.Problem() is { } problem)
            return Problems.Of(problem);
        var horse = await horses.Load(SignedIn.From(http.User).Practice, r.HorseId, ct);
        var workId = NewIds.Of(http, "work");
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => SaddleDecider.Decide(saddle, r.Command(workId, c.Actor), horse, c.Now),
            (outcome, _) => Results.Created($"/api/saddles/{saddleId}", new SaddleWritten(saddleId, outcome.Version, workId))
        );
    }

    private static async Task<IResult> Withdraw(HttpContext http, CommandRunner runner, Guid saddleId, Guid workId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<SaddleWithdrawal>(body);
        if (bad is not null)
            return Problems.Of(bad);
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => SaddleDecider.Decide(saddle, new WithdrawWork(workId, r!.Reason, c.Actor), c.Now),
            (outcome, _) => Results.Ok(new SaddleWritten(saddleId, outcome.Version, workId))
        );
    }

    private static async Task<IResult> TakeOff(HttpContext http, CommandRunner runner, Guid saddleId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<TakeOffRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => SaddleDecider.Decide(saddle, new TakeOff(r!.HorseId, r.Reason, c.Actor, r.At), c.Now),
            (outcome, _) => Results.Ok(new SaddleWritten(saddleId, outcome.Version))
        );
    }
}
