using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Notes;

namespace BackHistory.Service.Horses;

/// <param name="From">Since when; now, where nothing is said.</param>
public sealed record OwnerRequest(Guid? OwnerId, DateTimeOffset? From);

/// <inheritdoc cref="OwnerRequest"/>
public sealed record YardMoveRequest(Guid? YardId, DateTimeOffset? From);

/// <inheritdoc cref="OwnerRequest"/>
public sealed record CareRoleRequest(Guid PersonId, CareRole Role, DateTimeOffset? From);

public sealed record CareRoleEndRequest(Guid PersonId, CareRole Role, DateTimeOffset? At);

/// <param name="Words">Kept where they can be erased.</param>
/// <param name="About">The people of whom they tell.</param>
public sealed record CareRequest(CareKind Kind, DateOnly From, DateOnly? Until, string? Words, IReadOnlyList<Guid>? About, string? Reason);

/// <param name="Words">Null where there were none, or where they were erased.</param>
public sealed record CareAnswer(Guid NoteId, CareKind Kind, DateOnly From, DateOnly? Until, string? Words);

public sealed record CareEndRequest(DateOnly Until);

/// <inheritdoc cref="OwnerRequest"/>
public sealed record WorkSpanRequest(WorkLoad Load, string? Discipline, double? HoursPerWeek, DateTimeOffset? From);

public sealed record ReasonRequest(string Reason);

/// <summary>Owner, yard, work and care of a horse over HTTP: what explains a change of shape, and whom it concerns.</summary>
public static class CareApi
{
    public static void MapCare(this IEndpointRouteBuilder api)
    {
        var horse = api.MapGroup("/horses/{horseId:guid}").WithTags("Care");
        horse.MapGet("/care", List).RequireAuthorization(Policies.See).WithSummary("What was noted of its care, with the words");
        horse
            .MapPut("/owner", Owner)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("The horse has another owner")
            .Accepts<OwnerRequest>("application/json");
        horse
            .MapPut("/yard", Yard)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("The horse stands in another yard")
            .Accepts<YardMoveRequest>("application/json");
        horse
            .MapPost("/care-roles", TakeRole)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("A person takes a part in its care")
            .Accepts<CareRoleRequest>("application/json");
        horse
            .MapPost("/care-roles/end", EndRole)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("A person's part in its care ends")
            .Accepts<CareRoleEndRequest>("application/json");
        horse
            .MapPost("/care", Note)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("Note a lay-off, an illness, a farrier's visit …")
            .Accepts<CareRequest>("application/json");
        horse
            .MapPut("/care/{noteId:guid}", Correct)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Correct what was noted")
            .Accepts<CareRequest>("application/json");
        horse
            .MapPost("/care/{noteId:guid}/end", End)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("What was noted is over")
            .Accepts<CareEndRequest>("application/json");
        horse
            .MapPost("/care/{noteId:guid}/withdraw", Withdraw)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Withdraw a note")
            .Accepts<ReasonRequest>("application/json");
        horse
            .MapPost("/work", Work)
            .RequireAuthorization(Policies.Enter)
            .WithSummary("The horse's work from a day on")
            .Accepts<WorkSpanRequest>("application/json");
        horse
            .MapPost("/work/{workId:guid}/withdraw", WithdrawWork)
            .RequireAuthorization(Policies.Fit)
            .WithSummary("Withdraw a span of work")
            .Accepts<ReasonRequest>("application/json");
        horse
            .MapPost("/withdraw", WithdrawHorse)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("The horse was registered by mistake")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, NoteQueries notes, Guid horseId, CancellationToken ct)
    {
        var practice = SignedIn.From(http.User).Practice;
        if (await horses.Profile(practice, horseId, ct) is not { } horse)
            return Problems.Of(HorseRefusals.NoSuchHorse);
        var words = (await notes.Load(practice, horse.Care.Select(c => c.NoteId), ct)).ToDictionary(n => n.Id);
        return Results.Ok(
            horse.Care.Select(c => new CareAnswer(c.NoteId, c.Kind, c.From, c.Until, words.GetValueOrDefault(c.NoteId)?.Words))
        );
    }

    private static Task<IResult> Owner(HttpContext http, CommandRunner runner, Guid horseId) =>
        runner.Change<OwnerRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new ChangeOwner(r.OwnerId, r.From ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> Yard(HttpContext http, CommandRunner runner, Guid horseId) =>
        runner.Change<YardMoveRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new ChangeYard(r.YardId, r.From ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> TakeRole(HttpContext http, CommandRunner runner, Guid horseId) =>
        runner.Change<CareRoleRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new TakeCareRole(r.PersonId, r.Role, r.From ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> EndRole(HttpContext http, CommandRunner runner, Guid horseId) =>
        runner.Change<CareRoleEndRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new EndCareRole(r.PersonId, r.Role, r.At ?? c.Now, c.Actor), c.Now)
        );

    private static Task<IResult> Note(HttpContext http, CommandRunner runner, Guid horseId)
    {
        var noteId = NewIds.Of(http, "note");
        return runner.Make<CareRequest, Horse>(
            http,
            horseId,
            noteId,
            (r, horse, c) => HorseDecider.Decide(horse, new NoteCare(noteId, r.Kind, r.From, r.Until, c.Actor, r.Words, r.About), c.Now)
        );
    }

    private static async Task<IResult> Correct(
        HttpContext http,
        CommandRunner runner,
        NoteQueries notes,
        Guid horseId,
        Guid noteId,
        CancellationToken ct
    )
    {
        var kept = await notes.Load(SignedIn.From(http.User).Practice, [noteId], ct) is [var found] ? found : null;
        return await runner.Change<CareRequest, Horse>(
            http,
            horseId,
            (r, horse, c) =>
            {
                // Of whom the words tell stays until somebody says otherwise, and so do the words: an erasure goes by it.
                var (words, about) = r.Words is null && r.About is null ? (null, null) : (r.Words ?? kept?.Words, r.About ?? kept?.About);
                return HorseDecider.Decide(
                    horse,
                    new CorrectCare(noteId, r.Kind, r.From, r.Until, r.Reason ?? "", c.Actor, words, about),
                    c.Now
                );
            }
        );
    }

    private static Task<IResult> End(HttpContext http, CommandRunner runner, Guid horseId, Guid noteId) =>
        runner.Change<CareEndRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new EndCare(noteId, r.Until, c.Actor), c.Now)
        );

    private static Task<IResult> Withdraw(HttpContext http, CommandRunner runner, Guid horseId, Guid noteId) =>
        runner.Change<ReasonRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new WithdrawCare(noteId, r.Reason, c.Actor), c.Now)
        );

    private static Task<IResult> Work(HttpContext http, CommandRunner runner, Guid horseId)
    {
        var workId = NewIds.Of(http, "span");
        return runner.Make<WorkSpanRequest, Horse>(
            http,
            horseId,
            workId,
            (r, horse, c) =>
                HorseDecider.Decide(horse, new ChangeWork(workId, r.Load, r.Discipline, r.HoursPerWeek, r.From ?? c.Now, c.Actor), c.Now)
        );
    }

    private static Task<IResult> WithdrawWork(HttpContext http, CommandRunner runner, Guid horseId, Guid workId) =>
        runner.Change<ReasonRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new WithdrawWorkSpan(workId, r.Reason, c.Actor), c.Now)
        );

    private static Task<IResult> WithdrawHorse(HttpContext http, CommandRunner runner, Guid horseId) =>
        runner.Change<ReasonRequest, Horse>(
            http,
            horseId,
            (r, horse, c) => HorseDecider.Decide(horse, new WithdrawHorse(r.Reason, c.Actor), c.Now)
        );
}
