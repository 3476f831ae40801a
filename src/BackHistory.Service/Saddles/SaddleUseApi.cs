using BackHistory.Application.Saddles;
using BackHistory.Service.Access;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;

namespace BackHistory.Service.Saddles;

/// <summary>Where a saddle is, what lies under it and what it is made of, over HTTP.</summary>
public static class SaddleUseApi
{
    public static void MapSaddleUse(this IEndpointRouteBuilder api)
    {
        var saddle = api.MapGroup("/saddles/{saddleId:guid}").WithTags("Saddles");
        saddle
            .MapPut("/owner", Owner)
            .Needs<ChangeOwnerOfSaddle>()
            .WithSummary("The saddle has another owner")
            .Accepts<OwnerRequest>("application/json");
        saddle
            .MapPut("/parts", Parts)
            .Needs<ListSaddleParts>()
            .WithSummary("The parts that can be adjusted, whole")
            .Accepts<PartsRequest>("application/json");
        saddle
            .MapPost("/work/{workId:guid}/correct", CorrectWork)
            .Needs<CorrectSaddleWork>()
            .WithSummary("Put another piece of work in the place of a wrong one")
            .Accepts<WorkCorrectionRequest>("application/json");
        saddle
            .MapPost("/move", Move)
            .Needs<MoveSaddleToHorse>()
            .WithSummary("The saddle goes to another horse")
            .Accepts<MoveRequest>("application/json");
        saddle
            .MapPost("/trials", BeginTrial)
            .Needs<BeginSaddleTrial>()
            .WithSummary("The saddle is lent for a horse to try")
            .Accepts<TrialRequest>("application/json");
        saddle
            .MapPost("/trials/{trialId:guid}/end", EndTrial)
            .Needs<EndSaddleTrial>()
            .WithSummary("A trial ends")
            .Accepts<TrialEndRequest>("application/json");
        saddle
            .MapPost("/pads", FitPad)
            .Needs<FitSaddlePad>()
            .WithSummary("A pad, with its shims, is used under the saddle")
            .Accepts<PadRequest>("application/json");
        saddle
            .MapPost("/pads/{padId:guid}/remove", RemovePad)
            .Needs<RemoveSaddlePad>()
            .WithSummary("A pad is no longer used")
            .Accepts<PadEndRequest>("application/json");
        saddle
            .MapPost("/withdraw", Withdraw)
            .Needs<WithdrawSaddleRegistration>()
            .WithSummary("The saddle was registered by mistake")
            .Accepts<ReasonRequest>("application/json");
    }

    private static Task<IResult> Owner(
        HttpContext http,
        CommandRunner runner,
        ChangeOwnerOfSaddle act,
        Guid saddleId,
        CancellationToken ct
    ) => runner.Change<OwnerRequest>(http, saddleId, (r, by) => act.Do(new ChangeOwnerOfSaddle.Input(saddleId, r.OwnerId, r.From), by, ct));

    private static Task<IResult> Parts(HttpContext http, CommandRunner runner, ListSaddleParts act, Guid saddleId, CancellationToken ct) =>
        runner.Change<PartsRequest>(http, saddleId, (r, by) => act.Do(new ListSaddleParts.Input(saddleId, r.Parts, r.From), by, ct));

    private static async Task<IResult> CorrectWork(
        HttpContext http,
        CommandRunner runner,
        CorrectSaddleWork correct,
        Guid saddleId,
        Guid workId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<WorkCorrectionRequest>(body);
        if ((bad ?? r!.Replacement.Problem()) is { } problem)
            return Problems.From(problem);
        var id = NewIds.IdFor(http, "work");
        return await runner.Act(
            http,
            body,
            by => correct.Do(new CorrectSaddleWork.Input(saddleId, workId, r!.Replacement.Work(id), r.Reason), by, ct),
            version => Results.Ok(new SaddleWritten(saddleId, version, id))
        );
    }

    private static Task<IResult> Move(HttpContext http, CommandRunner runner, MoveSaddleToHorse act, Guid saddleId, CancellationToken ct) =>
        runner.Change<MoveRequest>(
            http,
            saddleId,
            (r, by) => act.Do(new MoveSaddleToHorse.Input(saddleId, r.FromHorseId, r.HorseId, r.Reason, r.At), by, ct)
        );

    private static Task<IResult> BeginTrial(
        HttpContext http,
        CommandRunner runner,
        BeginSaddleTrial act,
        Guid saddleId,
        CancellationToken ct
    )
    {
        var id = NewIds.IdFor(http, "trial");
        return runner.Make<TrialRequest>(
            http,
            saddleId,
            id,
            (r, by) => act.Do(new BeginSaddleTrial.Input(saddleId, id, r.HorseId, r.Until, r.From, r.OnBoth), by, ct)
        );
    }

    private static Task<IResult> EndTrial(
        HttpContext http,
        CommandRunner runner,
        EndSaddleTrial act,
        Guid saddleId,
        Guid trialId,
        CancellationToken ct
    ) =>
        runner.Change<TrialEndRequest>(
            http,
            saddleId,
            (r, by) => act.Do(new EndSaddleTrial.Input(saddleId, trialId, r.Kept, r.Reason, r.At), by, ct)
        );

    private static Task<IResult> FitPad(HttpContext http, CommandRunner runner, FitSaddlePad act, Guid saddleId, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "pad");
        return runner.Make<PadRequest>(
            http,
            saddleId,
            id,
            (r, by) => act.Do(new FitSaddlePad.Input(saddleId, id, r.HorseId, r.Pad, r.Shims ?? [], r.From), by, ct)
        );
    }

    private static Task<IResult> RemovePad(
        HttpContext http,
        CommandRunner runner,
        RemoveSaddlePad act,
        Guid saddleId,
        Guid padId,
        CancellationToken ct
    ) =>
        runner.Change<PadEndRequest>(http, saddleId, (r, by) => act.Do(new RemoveSaddlePad.Input(saddleId, padId, r.Reason, r.At), by, ct));

    private static Task<IResult> Withdraw(
        HttpContext http,
        CommandRunner runner,
        WithdrawSaddleRegistration act,
        Guid saddleId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, saddleId, (r, by) => act.Do(new WithdrawSaddleRegistration.Input(saddleId, r.Reason), by, ct));
}
