using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;
using BackHistory.Shape.Gauges;
using BackHistory.Store.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Practices;

public sealed record PracticeRequest(string Name, string TimeZone, string Reason);

/// <param name="Lengths">millimetres or inches.</param>
/// <param name="Heights">centimetres or hands.</param>
public sealed record UnitsRequest(LengthUnit Lengths, HeightUnit Heights);

public sealed record ProtocolRequest(IReadOnlyList<Station> Stations);

public sealed record GaugeRequest(string Name, string Measure, string Unit, IReadOnlyList<GaugeMark> Marks, string Reason);

/// <param name="Raters">Who measured, in the order of the columns; left out where one person did it all.</param>
/// <param name="Subjects">A row a horse, a column a rater or a repeat.</param>
public sealed record StudyRequest(
    string Measure,
    string? Station,
    string Method,
    IReadOnlyList<Guid>? Raters,
    IReadOnlyList<IReadOnlyList<double>> Subjects,
    DateTimeOffset? TakenAt
);

/// <summary>The practice's own protocol, gauges and studies over HTTP; its thresholds stand with the trends.</summary>
public static class PracticeApi
{
    public static void MapPractice(this IEndpointRouteBuilder api)
    {
        var practice = api.MapGroup("/practice").WithTags("Practice");
        practice.MapGet("/", Get).RequireAuthorization(Policies.See).WithSummary("The practice with its protocol, gauges and studies");
        practice
            .MapPut("/", Correct)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Correct its name or time zone")
            .Accepts<PracticeRequest>("application/json");
        practice
            .MapPut("/units", Units)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("In what lengths and heights are shown; nothing stored changes")
            .Accepts<UnitsRequest>("application/json");
        practice
            .MapPut("/protocol", Protocol)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Change the protocol: a new version")
            .Accepts<ProtocolRequest>("application/json");
        practice
            .MapPut("/gauges/{key}", Gauge)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Enter or change a gauge table: a new version")
            .Accepts<GaugeRequest>("application/json");
        practice
            .MapPost("/gauges/{key}/retire", Retire)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("A gauge is no longer used")
            .Accepts<ReasonRequest>("application/json");
        practice
            .MapPost("/studies", Study)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Record a study of repeatability")
            .Accepts<StudyRequest>("application/json");
        practice
            .MapPost("/studies/{studyId:guid}/withdraw", WithdrawStudy)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("Withdraw a study")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> Get(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.Of(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Results.Ok(practice);
    }

    private static Task<IResult> Correct(HttpContext http, CommandRunner runner, PracticeQueries practices, CancellationToken ct) =>
        Change<PracticeRequest>(
            http,
            runner,
            practices,
            (r, practice, c) => PracticeDecider.Decide(practice, new CorrectPractice(r.Name, r.TimeZone, r.Reason, c.Actor), c.Now),
            ct
        );

    private static Task<IResult> Units(HttpContext http, CommandRunner runner, PracticeQueries practices, CancellationToken ct) =>
        Change<UnitsRequest>(
            http,
            runner,
            practices,
            (r, practice, c) => PracticeDecider.Decide(practice, new ChooseDisplayUnits(r.Lengths, r.Heights, c.Actor), c.Now),
            ct
        );

    private static Task<IResult> Protocol(HttpContext http, CommandRunner runner, PracticeQueries practices, CancellationToken ct) =>
        Change<ProtocolRequest>(
            http,
            runner,
            practices,
            (r, practice, c) => PracticeDecider.Decide(practice, new ChangeProtocol(r.Stations, c.Actor), c.Now),
            ct
        );

    private static Task<IResult> Gauge(
        HttpContext http,
        CommandRunner runner,
        PracticeQueries practices,
        string key,
        CancellationToken ct
    ) =>
        Change<GaugeRequest>(
            http,
            runner,
            practices,
            (r, practice, c) =>
                PracticeDecider.Decide(practice, new ChangeGaugeTable(key, r.Name, r.Measure, r.Unit, r.Marks, r.Reason, c.Actor), c.Now),
            ct
        );

    private static Task<IResult> Retire(
        HttpContext http,
        CommandRunner runner,
        PracticeQueries practices,
        string key,
        CancellationToken ct
    ) =>
        Change<ReasonRequest>(
            http,
            runner,
            practices,
            (r, practice, c) => PracticeDecider.Decide(practice, new RetireGaugeTable(key, r.Reason, c.Actor), c.Now),
            ct
        );

    private static async Task<IResult> Study(HttpContext http, CommandRunner runner, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } known)
            return Problems.Of(PracticeRefusals.NoSuchPractice);
        var id = NewIds.Of(http, "study");
        return await runner.Make<StudyRequest, History.Practices.Practice>(
            http,
            known.Id,
            id,
            (r, practice, c) =>
                PracticeDecider.Decide(
                    practice,
                    new StudyRepeatability(id, r.Measure, r.Station, r.Method, r.Raters ?? [], r.Subjects, r.TakenAt ?? c.Now, c.Actor),
                    c.Now
                )
        );
    }

    private static Task<IResult> WithdrawStudy(
        HttpContext http,
        CommandRunner runner,
        PracticeQueries practices,
        Guid studyId,
        CancellationToken ct
    ) =>
        Change<ReasonRequest>(
            http,
            runner,
            practices,
            (r, practice, c) => PracticeDecider.Decide(practice, new WithdrawStudy(studyId, r.Reason, c.Actor), c.Now),
            ct
        );

    private static async Task<IResult> Change<TRequest>(
        HttpContext http,
        CommandRunner runner,
        PracticeQueries practices,
        Func<TRequest, History.Practices.Practice?, BackHistory.Store.CommandContext, History.Decided> decide,
        CancellationToken ct
    )
        where TRequest : class =>
        await practices.Load(SignedIn.From(http.User).Practice, ct) is { } known
            ? await runner.Change(http, known.Id, decide)
            : Problems.Of(PracticeRefusals.NoSuchPractice);
}
