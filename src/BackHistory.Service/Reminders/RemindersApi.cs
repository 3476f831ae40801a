using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Service.Access;
using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

public sealed record AnswerRequest(Answer Answer, string? Words);

public sealed record PutOffRequest(DateOnly Until, string Reason);

public sealed record BookRequest(DateTimeOffset For);

public sealed record CloseRequest(string Reason);

public sealed record ReminderWritten(Guid Id, long Version);

/// <summary>Reminders over HTTP.</summary>
public static class RemindersApi
{
    public static void MapReminders(this IEndpointRouteBuilder api)
    {
        var reminders = api.MapGroup("/reminders").WithTags("Reminders");
        reminders.MapGet("/", List).RequireAuthorization(Policies.See).WithSummary("Reminders, newest first, in any of the states asked for");
        reminders.MapGet("/{reminderId:guid}", Get).RequireAuthorization(Policies.See).WithSummary("One reminder with its evidence and letters");
        reminders.MapPost("/{reminderId:guid}/answer", AnswerIt).RequireAuthorization(Policies.Fit).WithSummary("Note what the reader answered").Accepts<AnswerRequest>("application/json");
        reminders.MapPost("/{reminderId:guid}/put-off", PutOff).RequireAuthorization(Policies.Fit).WithSummary("Put it off until a day").Accepts<PutOffRequest>("application/json");
        reminders.MapPost("/{reminderId:guid}/book", Book).RequireAuthorization(Policies.Fit).WithSummary("Book a visit for it").Accepts<BookRequest>("application/json");
        reminders.MapPost("/{reminderId:guid}/close", Close).RequireAuthorization(Policies.Fit).WithSummary("Close it with a reason").Accepts<CloseRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, ReminderQueries reminders, string? state, Guid? horseId, string? after, int? limit, CancellationToken ct)
    {
        var (cursor, bad) = Paging.Read<(DateTimeOffset At, Guid Id)>(after);
        if (bad is not null) return Problems.Of(bad);
        var (states, unknown) = States(state);
        if (unknown is not null) return Problems.Of(unknown);
        var size = Paging.Size(limit);
        var rows = await reminders.Newest(SignedIn.From(http.User).Practice, states, horseId, cursor, size + 1, ct);
        return Results.Ok(Paging.Page(rows, size, r => (r.RaisedAt, r.Id)));
    }

    private static async Task<IResult> Get(HttpContext http, ReminderQueries reminders, Guid reminderId, CancellationToken ct)
    {
        var reminder = await reminders.Load(SignedIn.From(http.User).Practice, reminderId, ct);
        if (reminder is null) return Problems.Of(ReminderRefusals.NoSuchReminder);
        http.Response.Headers.ETag = $"\"{reminder.Version}\"";
        return Results.Ok(reminder);
    }

    private static Task<IResult> AnswerIt(HttpContext http, CommandRunner runner, Guid reminderId, CancellationToken ct) =>
        Change<AnswerRequest>(http, runner, reminderId, (reminder, r, c) => ReminderDecider.Decide(reminder, new AnswerReminder(r.Answer, r.Words, c.Actor), c.Now), ct);

    private static Task<IResult> PutOff(HttpContext http, CommandRunner runner, Guid reminderId, CancellationToken ct) =>
        Change<PutOffRequest>(
            http, runner, reminderId,
            (reminder, r, c) => ReminderDecider.Decide(reminder, new PutOffReminder(r.Until, r.Reason, c.Actor), DateOnly.FromDateTime(c.Now.UtcDateTime), c.Now), ct);

    private static Task<IResult> Book(HttpContext http, CommandRunner runner, Guid reminderId, CancellationToken ct)
    {
        var booking = NewIds.Of(http, "booking");
        return Change<BookRequest>(http, runner, reminderId, (reminder, r, c) => ReminderDecider.Decide(reminder, new BookVisit(booking, r.For, c.Actor), c.Now), ct);
    }

    private static Task<IResult> Close(HttpContext http, CommandRunner runner, Guid reminderId, CancellationToken ct) =>
        Change<CloseRequest>(http, runner, reminderId, (reminder, r, c) => ReminderDecider.Decide(reminder, new CloseReminder(r.Reason, c.Actor), c.Now), ct);

    private static async Task<IResult> Change<T>(
        HttpContext http, CommandRunner runner, Guid reminderId, Func<Reminder?, T, History.Store.CommandContext, Decided> decide, CancellationToken ct)
        where T : class
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<T>(body);
        if (bad is not null) return Problems.Of(bad);
        return await runner.Run<Reminder>(
            http, reminderId, body, creates: false, (reminder, c) => decide(reminder, request!, c),
            (outcome, _) => Results.Ok(new ReminderWritten(outcome.StreamId, outcome.Version)));
    }

    private static (ReminderState[] States, Refused? Refused) States(string? text)
    {
        if (string.IsNullOrEmpty(text)) return ([], null);
        var states = new List<ReminderState>();
        foreach (var word in text.Split(','))
        {
            if (!Enum.TryParse<ReminderState>(word.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var state))
                return ([], new Refused("unknown-state", $"'{word}' is no state of a reminder. Known: open, put-off, booked, done, closed, withdrawn.", Place: "state"));
            states.Add(state);
        }

        return ([.. states], null);
    }
}
