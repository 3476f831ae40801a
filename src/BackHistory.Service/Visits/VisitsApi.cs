using BackHistory.Application.Visits;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Visits;

/// <summary>Visits over HTTP.</summary>
public static class VisitsApi
{
    public static void MapVisits(this IEndpointRouteBuilder api)
    {
        var visits = api.MapGroup("/horses/{horseId:guid}/visits").WithTags("Visits");
        visits.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Visits with their measures, oldest first");
        visits
            .MapPost("/", Record)
            .Needs<EnterVisit>()
            .WithSummary("Record a visit with its entries")
            .Accepts<VisitRequest>("application/json");
        visits.MapGet("/{visitId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One visit");
        visits
            .MapPut("/{visitId:guid}", Correct)
            .Needs<CorrectVisitDetails>()
            .WithSummary("Correct a visit")
            .Accepts<VisitCorrectionRequest>("application/json");
        visits
            .MapPost("/{visitId:guid}/withdraw", Withdraw)
            .Needs<WithdrawWholeVisit>()
            .WithSummary("Withdraw a visit")
            .Accepts<WithdrawalRequest>("application/json");
        visits.MapPost("/{visitId:guid}/confirm", Confirm).Needs<ConfirmEnteredVisit>().WithSummary("Confirm what an apprentice entered");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, Guid horseId, CancellationToken ct)
    {
        var visits = await horses.Visits(SignedIn.From(http.User).Practice, horseId, ct);
        return visits is null ? Problems.From(HorseRefusals.NoSuchHorse) : Results.Ok(visits);
    }

    private static async Task<IResult> Get(HttpContext http, HorseQueries horses, Guid horseId, Guid visitId, CancellationToken ct)
    {
        var visit = await horses.Visit(SignedIn.From(http.User).Practice, horseId, visitId, ct);
        return visit is null ? Problems.From(HorseRefusals.NoSuchVisit) : Results.Ok(visit);
    }

    private static async Task<IResult> Record(HttpContext http, CommandRunner runner, EnterVisit enter, Guid horseId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<VisitRequest>(body);
        if (bad is not null)
            return Problems.From(bad);
        var (entries, unreadable) = EntryReader.Read(request!.Entries, VisitEntriesApi.Numbered(http, "entry"));
        if (unreadable is not null)
            return Problems.From(unreadable);
        var visitId = request.Id ?? NewIds.IdFor(http, "visit");
        var visit = new EnterVisit.Input(
            horseId,
            visitId,
            request.TakenAt,
            request.By,
            request.Conditions ?? new VisitConditions(),
            request.Method,
            entries
        );
        return await runner.Act(
            http,
            body,
            by => enter.Do(visit, by, ct),
            version => Results.Created($"/api/horses/{horseId}/visits/{visitId}", EnteredAnswer.From(visitId, version, entries))
        );
    }

    private static Task<IResult> Correct(
        HttpContext http,
        CommandRunner runner,
        CorrectVisitDetails correct,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    ) =>
        runner.Act<VisitCorrectionRequest>(
            http,
            (r, by) =>
                correct.Do(
                    new CorrectVisitDetails.Input(
                        horseId,
                        visitId,
                        r.TakenAt,
                        r.By,
                        r.Conditions ?? new VisitConditions(),
                        r.Method,
                        r.Reason
                    ),
                    by,
                    ct
                ),
            outcome => Results.Ok(new EnteredAnswer(visitId, outcome.Version, []))
        );

    private static Task<IResult> Withdraw(
        HttpContext http,
        CommandRunner runner,
        WithdrawWholeVisit withdraw,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    ) =>
        runner.Act<WithdrawalRequest>(
            http,
            (r, by) => withdraw.Do(new WithdrawWholeVisit.Input(horseId, visitId, r.Reason), by, ct),
            outcome => Results.Ok(new EnteredAnswer(visitId, outcome.Version, []))
        );

    private static async Task<IResult> Confirm(
        HttpContext http,
        CommandRunner runner,
        ConfirmEnteredVisit confirm,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    ) =>
        await runner.Act(
            http,
            await Bodies.Read(http.Request, ct),
            by => confirm.Do(new ConfirmEnteredVisit.Input(horseId, visitId), by, ct),
            version => Results.Ok(new EnteredAnswer(visitId, version, []))
        );
}
