using BackHistory.Application;
using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>Reminders over HTTP.</summary>
public static class RemindersApi
{
    public static void MapReminders(this IEndpointRouteBuilder api)
    {
        var reminders = api.MapGroup("/reminders").WithTags("Reminders");
        reminders
            .MapGet("/", List)
            .RequireAuthorization(Policies.See)
            .WithSummary("Reminders, newest first, in any of the states asked for");
        reminders.MapGet("/counts", Counts).RequireAuthorization(Policies.See).WithSummary("How many stand in each state");
        reminders
            .MapGet("/{reminderId:guid}", Get)
            .RequireAuthorization(Policies.See)
            .WithSummary("One reminder with its evidence and letters");
        reminders
            .MapPost("/{reminderId:guid}/answer", Answer)
            .Needs<GiveAnswer>()
            .WithSummary("Note what the reader answered")
            .Accepts<AnswerRequest>("application/json");
        Door<PostponeReminder, PutOffRequest>(
            reminders,
            "put-off",
            "Put it off until a day, with the reason",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.Until, r.Reason ?? ""), by, ct)
        );
        Door<ArrangeVisit, BookRequest>(
            reminders,
            "book",
            "Book a visit for it, or move the booked one",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, at.NewBooking, r.For, r.FitterId, r.Tell, r.EvenSo), by, ct)
        );
        Door<CallOffVisit, CancelBookingRequest>(
            reminders,
            "cancel-booking",
            "Cancel the booked visit, with the reason",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.Reason ?? "", r.Tell), by, ct)
        );
        Door<NoteDone, NoWords>(
            reminders,
            "done",
            "Say that it was done, though no visit or work is on record",
            (act, at, _, by, ct) => act.Do(new(at.ReminderId), by, ct)
        );
        Door<EndReminder, CloseRequest>(
            reminders,
            "close",
            "Close it with a reason",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.Reason ?? ""), by, ct)
        );
        Door<NoteVetClearance, VetClearedRequest>(
            reminders,
            "vet-cleared",
            "Say that the veterinary surgeon has cleared the horse, and what was said; what a caution silenced is heard again",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.Words), by, ct)
        );
        Door<WriteAgain, TellAgainRequest>(
            reminders,
            "tell-again",
            "Write to its first reader once more",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.EvenSo), by, ct)
        );
        Door<ConsultVet, AskVetRequest>(
            reminders,
            "ask-vet",
            "Send the evidence to a veterinary surgeon of the practice",
            (act, at, r, by, ct) => act.Do(new(at.ReminderId, r.PersonId), by, ct)
        );
    }

    private sealed record Target(Guid ReminderId, Guid NewBooking);

    private static async Task<IResult> Answer(
        HttpContext http,
        CommandRunner runner,
        GiveAnswer give,
        Guid reminderId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<AnswerRequest>(body);
        if (bad is not null)
            return Problems.From(bad);
        return await runner.Act(
            http,
            body,
            by => give.Do(new GiveAnswer.Input(reminderId, request!.Answer, request.Words), by, ct),
            version => Results.Ok(new ReminderWritten(reminderId, version))
        );
    }

    private static void Door<TAct, TRequest>(
        RouteGroupBuilder reminders,
        string name,
        string summary,
        Func<TAct, Target, TRequest, Caller, CancellationToken, Task<Outcome>> ask
    )
        where TAct : class, IAct
        where TRequest : class =>
        reminders
            .MapPost(
                $"/{{reminderId:guid}}/{name}",
                async (HttpContext http, CommandRunner runner, TAct act, Guid reminderId, CancellationToken ct) =>
                {
                    var body = await Bodies.Read(http.Request, ct);
                    var (request, bad) = Bodies.As<TRequest>(body);
                    if (bad is not null)
                        return Problems.From(bad);
                    var at = new Target(reminderId, NewIds.IdFor(http, "booking"));
                    return await runner.Act(
                        http,
                        body,
                        by => ask(act, at, request!, by, ct),
                        version => Results.Ok(new ReminderWritten(reminderId, version))
                    );
                }
            )
            .Needs<TAct>()
            .WithSummary(summary)
            .Accepts<TRequest>("application/json");

    private static async Task<IResult> List(
        HttpContext http,
        ReminderQueries reminders,
        string? state,
        Guid? horseId,
        string? after,
        int? limit,
        CancellationToken ct
    )
    {
        var (cursor, bad) = Paging.Read<(DateTimeOffset At, Guid Id)>(after);
        if (bad is not null)
            return Problems.From(bad);
        var (states, unknown) = States(state);
        if (unknown is not null)
            return Problems.From(unknown);
        var size = Paging.Size(limit);
        var rows = await reminders.Newest(SignedIn.From(http.User).Practice, states, horseId, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, r => (r.RaisedAt, r.Id)));
    }

    private static async Task<IResult> Counts(HttpContext http, ReminderQueries reminders, CancellationToken ct) =>
        Results.Ok(
            (await reminders.Counts(SignedIn.From(http.User).Practice, ct)).ToDictionary(
                c => WordOf(c.Key),
                c => c.Value,
                StringComparer.Ordinal
            )
        );

    private static async Task<IResult> Get(HttpContext http, ReminderQueries reminders, Guid reminderId, CancellationToken ct)
    {
        var reminder = await reminders.Load(SignedIn.From(http.User).Practice, reminderId, ct);
        if (reminder is null)
            return Problems.From(ReminderRefusals.NoSuchReminder);
        http.Response.Headers.ETag = $"\"{reminder.Version}\"";
        return Results.Ok(reminder);
    }

    /// <summary>A state as it stands in addresses.</summary>
    public static string WordOf(ReminderState state) => state == ReminderState.PutOff ? "put-off" : state.ToString().ToLowerInvariant();

    public static (ReminderState[] States, Refused? Refused) States(string? text)
    {
        if (string.IsNullOrEmpty(text))
            return ([], null);
        var states = new List<ReminderState>();
        foreach (var word in text.Split(','))
        {
            if (
                !Enum.TryParse<ReminderState>(word.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var state)
                || !Enum.IsDefined(state)
            )
            {
                var known = string.Join(", ", Enum.GetValues<ReminderState>().Select(WordOf));
                return ([], new Refused("unknown-state", $"'{word}' is no state of a reminder. Known: {known}.", Place: "state"));
            }

            states.Add(state);
        }

        return ([.. states], null);
    }
}
