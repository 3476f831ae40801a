using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;
using BackHistory.Service.Access;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Saddles;

/// <param name="From">Since when; now, where nothing is said.</param>
public sealed record PartsRequest(IReadOnlyList<SaddlePart> Parts, DateTimeOffset? From);

/// <param name="Replacement">The work as it really was.</param>
public sealed record WorkCorrectionRequest(WorkRequest Replacement, string Reason);

public sealed record MoveRequest(Guid FromHorseId, Guid HorseId, string? Reason, DateTimeOffset? At);

public sealed record TrialRequest(Guid HorseId, DateOnly? Until, DateTimeOffset? From);

public sealed record TrialEndRequest(bool Kept, string? Reason, DateTimeOffset? At);

public sealed record PadRequest(Guid HorseId, string Pad, IReadOnlyList<Shim>? Shims, DateTimeOffset? From);

public sealed record PadEndRequest(string Reason, DateTimeOffset? At);

/// <summary>Where a saddle is, what lies under it and what it is made of, over HTTP.</summary>
public static class SaddleUseApi
{
    public static void MapSaddleUse(this IEndpointRouteBuilder api)
    {
        var saddle = api.MapGroup("/saddles/{saddleId:guid}").WithTags("Saddles");
        saddle
            .MapPut("/owner", Owner)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The saddle has another owner")
            .Accepts<OwnerRequest>("application/json");
        saddle
            .MapPut("/parts", Parts)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The parts that can be adjusted, whole")
            .Accepts<PartsRequest>("application/json");
        saddle
            .MapPost("/work/{workId:guid}/correct", CorrectWork)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Put another piece of work in the place of a wrong one")
            .Accepts<WorkCorrectionRequest>("application/json");
        saddle
            .MapPost("/move", Move)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The saddle goes to another horse")
            .Accepts<MoveRequest>("application/json");
        saddle
            .MapPost("/trials", BeginTrial)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The saddle is lent for a horse to try")
            .Accepts<TrialRequest>("application/json");
        saddle
            .MapPost("/trials/{trialId:guid}/end", EndTrial)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("A trial ends")
            .Accepts<TrialEndRequest>("application/json");
        saddle
            .MapPost("/pads", FitPad)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("A pad, with its shims, is used under the saddle")
            .Accepts<PadRequest>("application/json");
        saddle
            .MapPost("/pads/{padId:guid}/remove", RemovePad)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("A pad is no longer used")
            .Accepts<PadEndRequest>("application/json");
        saddle
            .MapPost("/withdraw", Withdraw)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("The saddle was registered by mistake")
            .Accepts<ReasonRequest>("application/json");
    }

    private static Task<IResult> Owner(HttpContext http, CommandRunner runner, Guid saddleId) =>
        runner.Change<OwnerRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new ChangeSaddleOwner(r.OwnerId, r.From ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> Parts(HttpContext http, CommandRunner runner, Guid saddleId) =>
        runner.Change<PartsRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new ListParts(r.Parts, r.From ?? c.Now, c.Actor), c.Now)
        );

    private static async Task<IResult> CorrectWork(
        HttpContext http,
        CommandRunner runner,
        HorseQueries horses,
        Guid saddleId,
        Guid workId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<WorkCorrectionRequest>(body);
        if ((bad ?? r!.Replacement.Problem()) is { } problem)
            return Problems.Of(problem);
        var horse = await horses.Load(SignedIn.From(http.User).Practice, r!.Replacement.HorseId, ct);
        var id = NewIds.Of(http, "work");
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) =>
                SaddleDecider.Decide(saddle, new CorrectWork(workId, r.Replacement.Command(id, c.Actor), r.Reason, c.Actor), horse, c.Now),
            (outcome, _) => Results.Ok(new SaddleWritten(saddleId, outcome.Version, id))
        );
    }

    private static Task<IResult> Move(HttpContext http, CommandRunner runner, HorseQueries horses, Guid saddleId, CancellationToken ct) =>
        OnHorse<MoveRequest>(
            http,
            runner,
            horses,
            saddleId,
            null,
            r => r.HorseId,
            (r, saddle, horse, c) =>
                SaddleDecider.Decide(saddle, new MoveSaddle(r.FromHorseId, r.HorseId, r.Reason, r.At ?? c.Now, c.Actor), horse, c.Now),
            ct
        );

    private static Task<IResult> BeginTrial(
        HttpContext http,
        CommandRunner runner,
        HorseQueries horses,
        Guid saddleId,
        CancellationToken ct
    )
    {
        var id = NewIds.Of(http, "trial");
        return OnHorse<TrialRequest>(
            http,
            runner,
            horses,
            saddleId,
            id,
            r => r.HorseId,
            (r, saddle, horse, c) =>
                SaddleDecider.Decide(saddle, new BeginTrial(id, r.HorseId, r.Until, r.From ?? c.Now, c.Actor), horse, c.Now),
            ct
        );
    }

    private static Task<IResult> EndTrial(HttpContext http, CommandRunner runner, Guid saddleId, Guid trialId) =>
        runner.Change<TrialEndRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new EndTrial(trialId, r.Kept, r.Reason, r.At ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> FitPad(HttpContext http, CommandRunner runner, HorseQueries horses, Guid saddleId, CancellationToken ct)
    {
        var id = NewIds.Of(http, "pad");
        return OnHorse<PadRequest>(
            http,
            runner,
            horses,
            saddleId,
            id,
            r => r.HorseId,
            (r, saddle, horse, c) =>
                SaddleDecider.Decide(saddle, new FitPad(id, r.HorseId, r.Pad, r.Shims ?? [], r.From ?? c.Now, c.Actor), horse, c.Now),
            ct
        );
    }

    private static Task<IResult> RemovePad(HttpContext http, CommandRunner runner, Guid saddleId, Guid padId) =>
        runner.Change<PadEndRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new RemovePad(padId, r.Reason, r.At ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> Withdraw(HttpContext http, CommandRunner runner, Guid saddleId) =>
        runner.Change<ReasonRequest, Saddle>(
            http,
            saddleId,
            (r, saddle, c) => SaddleDecider.Decide(saddle, new WithdrawSaddle(r.Reason, c.Actor), c.Now)
        );

    /// <summary>A command on a saddle that must know the horse it is about.</summary>
    private static async Task<IResult> OnHorse<TRequest>(
        HttpContext http,
        CommandRunner runner,
        HorseQueries horses,
        Guid saddleId,
        Guid? made,
        Func<TRequest, Guid> horseOf,
        Func<TRequest, Saddle?, Horse?, BackHistory.Store.CommandContext, Decided> decide,
        CancellationToken ct
    )
        where TRequest : class
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<TRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var horse = await horses.Load(SignedIn.From(http.User).Practice, horseOf(r!), ct);
        return await runner.Run<Saddle>(
            http,
            saddleId,
            body,
            creates: false,
            (saddle, c) => decide(r!, saddle, horse, c),
            (outcome, _) =>
                Results.Json(
                    new Written(saddleId, outcome.Version, made),
                    statusCode: made is null ? StatusCodes.Status200OK : StatusCodes.Status201Created
                )
        );
    }
}
