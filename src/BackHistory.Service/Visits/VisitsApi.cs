using System.Text;
using BackHistory.Application.Visits;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;
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
        visits
            .MapPost("/{visitId:guid}/entries", Add)
            .Needs<EnterMore>()
            .WithSummary("Add entries to a visit")
            .Accepts<EntriesRequest>("application/json");
        visits
            .MapPost("/{visitId:guid}/tracings", AddCsv)
            .Needs<EnterMore>()
            .WithSummary("Add a tracing as a table x_mm,y_mm")
            .Accepts<string>("text/csv");
        visits
            .MapPost("/{visitId:guid}/entries/{entryId:guid}/correct", CorrectEntry)
            .Needs<ReplaceEntry>()
            .WithSummary("Put another entry in the place of a wrong one")
            .Accepts<EntryCorrectionRequest>("application/json");
        visits
            .MapPost("/{visitId:guid}/entries/{entryId:guid}/withdraw", WithdrawEntry)
            .Needs<WithdrawOneEntry>()
            .WithSummary("Withdraw an entry")
            .Accepts<WithdrawalRequest>("application/json");
    }

    private static async Task<IResult> List(HttpContext http, HorseQueries horses, Guid horseId, CancellationToken ct)
    {
        var visits = await horses.Visits(SignedIn.From(http.User).Practice, horseId, ct);
        return visits is null ? Problems.Of(HorseRefusals.NoSuchHorse) : Results.Ok(visits);
    }

    private static async Task<IResult> Get(HttpContext http, HorseQueries horses, Guid horseId, Guid visitId, CancellationToken ct)
    {
        var visit = await horses.Visit(SignedIn.From(http.User).Practice, horseId, visitId, ct);
        return visit is null ? Problems.Of(HorseRefusals.NoSuchVisit) : Results.Ok(visit);
    }

    private static async Task<IResult> Record(HttpContext http, CommandRunner runner, EnterVisit enter, Guid horseId, CancellationToken ct)
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<VisitRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var (entries, unreadable) = EntryReader.Read(request!.Entries, Numbered(http, "entry"));
        if (unreadable is not null)
            return Problems.Of(unreadable);
        var visitId = request.Id ?? NewIds.Of(http, "visit");
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
            version => Results.Created($"/api/horses/{horseId}/visits/{visitId}", EnteredAnswer.Of(visitId, version, entries))
        );
    }

    private static async Task<IResult> Add(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (request, bad) = Bodies.As<EntriesRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var (entries, unreadable) = EntryReader.Read(request!.Entries, Numbered(http, "entry"));
        return unreadable is not null ? Problems.Of(unreadable) : await Enter(http, runner, more, horseId, visitId, body, entries, ct);
    }

    private static async Task<IResult> AddCsv(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        string? kind,
        string? station,
        double? noise,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var form = kind switch
        {
            null or "cross-section" => TracingKind.CrossSection,
            "topline" => TracingKind.Topline,
            _ => (TracingKind?)null,
        };
        if (form is not { } known)
            return Problems.Of(new Refused("unknown-kind", "A tracing is a cross-section or a topline.", Place: "kind"));
        var (tracing, bad) = TracingTable.Read(body, known, station, noise ?? 1.0, TracingLimits.MostPoints);
        if (bad is not null)
            return Problems.Of(new Refused(bad.Code, bad.Message, Place: bad.Place));
        return await Enter(
            http,
            runner,
            more,
            horseId,
            visitId,
            [.. body, .. Encoding.UTF8.GetBytes(http.Request.QueryString.Value ?? "")],
            [new TracingEntry(NewIds.Of(http, "entry"), tracing!)],
            ct
        );
    }

    internal static Task<IResult> Enter(
        HttpContext http,
        CommandRunner runner,
        EnterMore more,
        Guid horseId,
        Guid visitId,
        byte[] body,
        IReadOnlyList<VisitEntry> entries,
        CancellationToken ct
    ) =>
        runner.Act(
            http,
            body,
            by => more.Do(new EnterMore.Input(horseId, visitId, entries), by, ct),
            version => Results.Created($"/api/horses/{horseId}/visits/{visitId}", EnteredAnswer.Of(visitId, version, entries))
        );

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

    private static async Task<IResult> CorrectEntry(
        HttpContext http,
        CommandRunner runner,
        ReplaceEntry replace,
        Guid horseId,
        Guid visitId,
        Guid entryId,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (r, bad) = Bodies.As<EntryCorrectionRequest>(body);
        if (bad is not null)
            return Problems.Of(bad);
        var (entry, unreadable) = EntryReader.Read(r!.Entry, Numbered(http, "entry"));
        if (unreadable is not null)
            return Problems.Of(unreadable);
        return await runner.Act(
            http,
            body,
            by => replace.Do(new ReplaceEntry.Input(horseId, visitId, entryId, entry!, r.Reason), by, ct),
            version => Results.Ok(EnteredAnswer.Of(visitId, version, [entry!]))
        );
    }

    private static Task<IResult> WithdrawEntry(
        HttpContext http,
        CommandRunner runner,
        WithdrawOneEntry withdraw,
        Guid horseId,
        Guid visitId,
        Guid entryId,
        CancellationToken ct
    ) =>
        runner.Act<WithdrawalRequest>(
            http,
            (r, by) => withdraw.Do(new WithdrawOneEntry.Input(horseId, visitId, entryId, r.Reason), by, ct),
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

    private static Func<Guid> Numbered(HttpContext http, string what)
    {
        var number = 0;
        return () => NewIds.Of(http, what, number++);
    }
}
