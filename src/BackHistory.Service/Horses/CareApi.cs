using BackHistory.Application.Horses;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Notes;

namespace BackHistory.Service.Horses;

/// <summary>Owner, yard, work and care of a horse over HTTP: what explains a change of shape, and whom it concerns.</summary>
public static class CareApi
{
    public static void MapCare(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Care");
        horse.MapGet("/care", List).RequireAuthorization(Policies.See).WithSummary("What was noted of its care, with the words");
        horse
            .MapPut("/owner", Owner)
            .Needs<ChangeOwnerOfHorse>()
            .WithSummary("The horse has another owner")
            .Accepts<OwnerRequest>("application/json");
        horse
            .MapPut("/yard", Yard)
            .Needs<MoveHorseToYard>()
            .WithSummary("The horse stands in another yard")
            .Accepts<YardMoveRequest>("application/json");
        horse
            .MapPost("/care-roles", TakeRole)
            .Needs<AssignCareRole>()
            .WithSummary("A person takes a part in its care")
            .Accepts<CareRoleRequest>("application/json");
        horse
            .MapPost("/care-roles/end", EndRole)
            .Needs<UnassignCareRole>()
            .WithSummary("A person's part in its care ends")
            .Accepts<CareRoleEndRequest>("application/json");
        horse
            .MapPost("/care", Note)
            .Needs<EnterCareNote>()
            .WithSummary("Note a lay-off, an illness, a farrier's visit …")
            .Accepts<CareRequest>("application/json");
        horse
            .MapPut("/care/{noteId:guid}", Correct)
            .Needs<CorrectCareNote>()
            .WithSummary("Correct what was noted")
            .Accepts<CareRequest>("application/json");
        horse
            .MapPost("/care/{noteId:guid}/end", End)
            .Needs<EndCareNote>()
            .WithSummary("What was noted is over")
            .Accepts<CareEndRequest>("application/json");
        horse
            .MapPost("/care/{noteId:guid}/withdraw", Withdraw)
            .Needs<WithdrawCareNote>()
            .WithSummary("Withdraw a note")
            .Accepts<ReasonRequest>("application/json");
        horse
            .MapPost("/work", Work)
            .Needs<ChangeWorkLoad>()
            .WithSummary("The horse's work from a day on")
            .Accepts<WorkSpanRequest>("application/json");
        horse
            .MapPost("/work/{workId:guid}/withdraw", WithdrawWork)
            .Needs<WithdrawWorkLoad>()
            .WithSummary("Withdraw a span of work")
            .Accepts<ReasonRequest>("application/json");
        horse
            .MapPost("/withdraw", WithdrawHorse)
            .Needs<WithdrawHorseRegistration>()
            .WithSummary("The horse was registered by mistake")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, NoteQueries notes, Guid horseId, CancellationToken ct)
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await horses.Profile(practice, horseId, ct) is not { } horse)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var words = (await notes.Load(practice, horse.Care.Select(c => c.NoteId), ct)).ToDictionary(n => n.Id);
        return Results.Ok(
            horse.Care.Select(c => new CareAnswer(c.NoteId, c.Kind, c.From, c.Until, words.GetValueOrDefault(c.NoteId)?.Words))
        );
    }

    private static Task<IResult> Owner(
        HttpContext http,
        CommandRunner runner,
        ChangeOwnerOfHorse act,
        Guid horseId,
        CancellationToken ct
    ) => runner.Change<OwnerRequest>(http, horseId, (r, by) => act.Do(new ChangeOwnerOfHorse.Input(horseId, r.OwnerId, r.From), by, ct));

    private static Task<IResult> Yard(HttpContext http, CommandRunner runner, MoveHorseToYard act, Guid horseId, CancellationToken ct) =>
        runner.Change<YardMoveRequest>(http, horseId, (r, by) => act.Do(new MoveHorseToYard.Input(horseId, r.YardId, r.From), by, ct));

    private static Task<IResult> TakeRole(HttpContext http, CommandRunner runner, AssignCareRole act, Guid horseId, CancellationToken ct) =>
        runner.Change<CareRoleRequest>(
            http,
            horseId,
            (r, by) => act.Do(new AssignCareRole.Input(horseId, r.PersonId, r.Role, r.From), by, ct)
        );

    private static Task<IResult> EndRole(
        HttpContext http,
        CommandRunner runner,
        UnassignCareRole act,
        Guid horseId,
        CancellationToken ct
    ) =>
        runner.Change<CareRoleEndRequest>(
            http,
            horseId,
            (r, by) => act.Do(new UnassignCareRole.Input(horseId, r.PersonId, r.Role, r.At), by, ct)
        );

    private static Task<IResult> Note(HttpContext http, CommandRunner runner, EnterCareNote act, Guid horseId, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "note");
        return runner.Make<CareRequest>(
            http,
            horseId,
            id,
            (r, by) => act.Do(new EnterCareNote.Input(horseId, id, r.Kind, r.From, r.Until, r.Words, r.About), by, ct)
        );
    }

    private static Task<IResult> Correct(
        HttpContext http,
        CommandRunner runner,
        CorrectCareNote act,
        Guid horseId,
        Guid noteId,
        CancellationToken ct
    ) =>
        runner.Change<CareRequest>(
            http,
            horseId,
            (r, by) => act.Do(new CorrectCareNote.Input(horseId, noteId, r.Kind, r.From, r.Until, r.Words, r.About, r.Reason ?? ""), by, ct)
        );

    private static Task<IResult> End(
        HttpContext http,
        CommandRunner runner,
        EndCareNote act,
        Guid horseId,
        Guid noteId,
        CancellationToken ct
    ) => runner.Change<CareEndRequest>(http, horseId, (r, by) => act.Do(new EndCareNote.Input(horseId, noteId, r.Until), by, ct));

    private static Task<IResult> Withdraw(
        HttpContext http,
        CommandRunner runner,
        WithdrawCareNote act,
        Guid horseId,
        Guid noteId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, horseId, (r, by) => act.Do(new WithdrawCareNote.Input(horseId, noteId, r.Reason), by, ct));

    private static Task<IResult> Work(HttpContext http, CommandRunner runner, ChangeWorkLoad act, Guid horseId, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "span");
        return runner.Make<WorkSpanRequest>(
            http,
            horseId,
            id,
            (r, by) => act.Do(new ChangeWorkLoad.Input(horseId, id, r.Load, r.Discipline, r.HoursPerWeek, r.From), by, ct)
        );
    }

    private static Task<IResult> WithdrawWork(
        HttpContext http,
        CommandRunner runner,
        WithdrawWorkLoad act,
        Guid horseId,
        Guid workId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, horseId, (r, by) => act.Do(new WithdrawWorkLoad.Input(horseId, workId, r.Reason), by, ct));

    private static Task<IResult> WithdrawHorse(
        HttpContext http,
        CommandRunner runner,
        WithdrawHorseRegistration act,
        Guid horseId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, horseId, (r, by) => act.Do(new WithdrawHorseRegistration.Input(horseId, r.Reason), by, ct));
}
