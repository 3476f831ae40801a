using BackHistory.Application.Practices;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Practices;

/// <summary>The practice's own protocol, gauges and studies over HTTP; its thresholds stand with the trends.</summary>
public static class PracticeApi
{
    public static void MapPractice(this IEndpointRouteBuilder api)
    {
        var practice = api.MapGroup("/practice").WithTags("Practice");
        practice.MapGet("/", Get).RequireAuthorization(Policies.See).WithSummary("The practice with its protocol, gauges and studies");
        practice
            .MapPut("/", Correct)
            .Needs<CorrectPracticeDetails>()
            .WithSummary("Correct its name or time zone")
            .Accepts<PracticeRequest>("application/json");
        practice
            .MapGet("/picture", ContactPicture)
            .RequireAuthorization(Policies.See)
            .WithSummary("The practice's own picture, as letters and papers show it");
        practice
            .MapPut("/units", Units)
            .Needs<SetUnits>()
            .WithSummary("In what lengths and heights are shown; nothing stored changes")
            .Accepts<UnitsRequest>("application/json");
        practice
            .MapPut("/protocol", Protocol)
            .Needs<SetProtocol>()
            .WithSummary("Change the protocol: a new version")
            .Accepts<ProtocolRequest>("application/json");
        practice
            .MapPut("/gauges/{key}", Gauge)
            .Needs<EnterGauge>()
            .WithSummary("Enter or change a gauge table: a new version")
            .Accepts<GaugeRequest>("application/json");
        practice
            .MapPost("/gauges/{key}/retire", Retire)
            .Needs<RetireGauge>()
            .WithSummary("A gauge is no longer used")
            .Accepts<ReasonRequest>("application/json");
        practice
            .MapPost("/studies", Study)
            .Needs<EnterStudy>()
            .WithSummary("Record a study of repeatability")
            .Accepts<StudyRequest>("application/json");
        practice
            .MapPost("/studies/{studyId:guid}/withdraw", WithdrawStudy)
            .Needs<TakeBackStudy>()
            .WithSummary("Withdraw a study")
            .Accepts<ReasonRequest>("application/json");
    }

    private static async Task<IResult> ContactPicture(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Contact(SignedIn.From(http.User).Practice, ct) is not { Picture: { } picture })
            return Problems.From(Pictures.NoPicture);
        http.Response.Headers.CacheControl = "private, no-cache";
        return Results.File(picture.Bytes, picture.MediaType, picture.MediaType == "image/png" ? "picture.png" : "picture.jpg");
    }

    private static async Task<IResult> Get(HttpContext http, PracticeQueries practices, CancellationToken ct)
    {
        if (await practices.Load(SignedIn.From(http.User).Practice, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        http.Response.Headers.ETag = $"\"{practice.Version}\"";
        return Results.Ok(practice);
    }

    private static Task<IResult> Correct(HttpContext http, CommandRunner runner, CorrectPracticeDetails correct, CancellationToken ct) =>
        runner.Change<PracticeRequest>(http, (r, by) => correct.Do(new CorrectPracticeDetails.Input(r.Name, r.TimeZone, r.Reason), by, ct));

    private static Task<IResult> Units(HttpContext http, CommandRunner runner, SetUnits set, CancellationToken ct) =>
        runner.Change<UnitsRequest>(http, (r, by) => set.Do(new SetUnits.Input(r.Lengths, r.Heights), by, ct));

    private static Task<IResult> Protocol(HttpContext http, CommandRunner runner, SetProtocol set, CancellationToken ct) =>
        runner.Change<ProtocolRequest>(http, (r, by) => set.Do(new SetProtocol.Input(r.Stations), by, ct));

    private static Task<IResult> Gauge(HttpContext http, CommandRunner runner, EnterGauge enter, string key, CancellationToken ct) =>
        runner.Change<GaugeRequest>(
            http,
            (r, by) => enter.Do(new EnterGauge.Input(key, r.Name, r.Measure, r.Unit, r.Marks, r.Reason), by, ct)
        );

    private static Task<IResult> Retire(HttpContext http, CommandRunner runner, RetireGauge retire, string key, CancellationToken ct) =>
        runner.Change<ReasonRequest>(http, (r, by) => retire.Do(new RetireGauge.Input(key, r.Reason), by, ct));

    private static Task<IResult> Study(HttpContext http, CommandRunner runner, EnterStudy enter, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "study");
        return runner.Act<StudyRequest>(http, (r, by) => enter.Do(InputFrom(id, r), by, ct), outcome => Written.Creating(outcome, id));
    }

    private static EnterStudy.Input InputFrom(Guid id, StudyRequest r) =>
        new(id, r.Measure, r.Station, r.Method, r.Raters ?? [], r.Subjects, r.TakenAt);

    private static Task<IResult> WithdrawStudy(
        HttpContext http,
        CommandRunner runner,
        TakeBackStudy takeBack,
        Guid studyId,
        CancellationToken ct
    ) => runner.Change<ReasonRequest>(http, (r, by) => takeBack.Do(new TakeBackStudy.Input(studyId, r.Reason), by, ct));
}
