using BackHistory.Application.Saddles;
using BackHistory.History.Saddles;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Saddles;

namespace BackHistory.Service.Saddles;

/// <summary>Saddles and the work on them over HTTP.</summary>
public static class SaddlesApi
{
    public static void MapSaddles(this IEndpointRouteBuilder api)
    {
        var saddles = api.MapGroup("/saddles").WithTags("Saddles");
        saddles.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Saddles by label, a page at a time");
        saddles.MapPost("/", Register).Needs<EnterSaddle>().WithSummary("Register a saddle").Accepts<SaddleRequest>("application/json");
        saddles.MapGet("/{saddleId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One saddle with all its work");
        saddles
            .MapPut("/{saddleId:guid}", Correct)
            .Needs<DescribeSaddle>()
            .WithSummary("Correct a saddle's details")
            .Accepts<SaddleRequest>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/work", Work)
            .Needs<EnterSaddleWork>()
            .WithSummary("Record that it was set or altered")
            .Accepts<WorkRequest>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/work/{workId:guid}/withdraw", Withdraw)
            .Needs<WithdrawSaddleWork>()
            .WithSummary("Withdraw a piece of work")
            .Accepts<SaddleWithdrawal>("application/json");
        saddles
            .MapPost("/{saddleId:guid}/take-off", TakeOff)
            .Needs<TakeSaddleOff>()
            .WithSummary("The saddle is no longer used on a horse")
            .Accepts<TakeOffRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, SaddleQueries saddles, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(string Label, Guid Id)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var size = Paging.Size(limit);
        var rows = await saddles.ByLabel(SignedIn.From(http.User).Practice, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, s => (s.Label, s.Id)));
    }

    private static Task<IResult> Register(HttpContext http, CommandRunner runner, EnterSaddle enter, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "saddle");
        return runner.Act<SaddleRequest>(
            http,
            (r, by) => enter.Do(new EnterSaddle.Input(id, r.Details, r.OwnerId), by, ct),
            outcome => Results.Created($"/api/saddles/{outcome.StreamId}", new SaddleWritten(outcome.StreamId, outcome.Version)),
            creates: true
        );
    }

    private static async Task<IResult> Get(HttpContext http, SaddleQueries saddles, Guid saddleId, CancellationToken ct)
    {
        var saddle = await saddles.Load(SignedIn.From(http.User).Practice, saddleId, ct);
        if (saddle is null)
            return Problems.From(SaddleRefusals.NoSuchSaddle);
        http.Response.Headers.ETag = $"\"{saddle.Version}\"";
        return Results.Ok(saddle);
    }

    private static Task<IResult> Correct(
        HttpContext http,
        CommandRunner runner,
        DescribeSaddle describe,
        Guid saddleId,
        CancellationToken ct
    ) =>
        runner.Act<SaddleRequest>(
            http,
            (r, by) => describe.Do(new DescribeSaddle.Input(saddleId, r.Details, r.Reason ?? "", r.OwnerId), by, ct),
            outcome => Results.Ok(new SaddleWritten(outcome.StreamId, outcome.Version))
        );

    private static async Task<IResult> Work(
        HttpContext http,
        CommandRunner runner,
        EnterSaddleWork enter,
        Guid saddleId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<WorkRequest>(body);
        if ((bad ?? r!.Problem()) is { } problem)
            return Problems.From(problem);
        var workId = NewIds.IdFor(http, "work");
        return await runner.Act(
            http,
            body,
            by => enter.Do(new EnterSaddleWork.Input(saddleId, r!.Work(workId)), by, ct),
            version => Results.Created($"/api/saddles/{saddleId}", new SaddleWritten(saddleId, version, workId))
        );
    }

    private static Task<IResult> Withdraw(
        HttpContext http,
        CommandRunner runner,
        WithdrawSaddleWork withdraw,
        Guid saddleId,
        Guid workId,
        CancellationToken ct
    ) =>
        runner.Act<SaddleWithdrawal>(
            http,
            (r, by) => withdraw.Do(new WithdrawSaddleWork.Input(saddleId, workId, r.Reason), by, ct),
            outcome => Results.Ok(new SaddleWritten(saddleId, outcome.Version, workId))
        );

    private static Task<IResult> TakeOff(HttpContext http, CommandRunner runner, TakeSaddleOff take, Guid saddleId, CancellationToken ct) =>
        runner.Act<TakeOffRequest>(
            http,
            (r, by) => take.Do(new TakeSaddleOff.Input(saddleId, r.HorseId, r.Reason, r.At), by, ct),
            outcome => Results.Ok(new SaddleWritten(saddleId, outcome.Version))
        );
}
