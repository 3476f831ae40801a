using System.Text;
using BackHistory.Application.Visits;
using BackHistory.Formats.Drawings;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

/// <summary>What was taken at a visit, over HTTP: added, corrected, withdrawn.</summary>
public static class VisitEntriesApi
{
    public static void MapVisitEntries(this IEndpointRouteBuilder api)
    {
        var visits = api.MapGroup("/horses/{horseId:guid}/visits").WithTags("Visits");
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
            return Problems.From(bad);
        var (entries, unreadable) = EntryReader.Read(request!.Entries, Numbered(http, "entry"));
        return unreadable is not null ? Problems.From(unreadable) : await Enter(http, runner, more, horseId, visitId, body, entries, ct);
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
            return Problems.From(new Refused("unknown-kind", "A tracing is a cross-section or a topline.", Place: "kind"));
        var (tracing, bad) = TracingTable.Read(body, known, station, noise ?? 1.0, TracingLimits.MostPoints);
        if (bad is not null)
            return Problems.From(new Refused(bad.Code, bad.Message, Place: bad.Place));
        return await Enter(
            http,
            runner,
            more,
            horseId,
            visitId,
            [.. body, .. Encoding.UTF8.GetBytes(http.Request.QueryString.Value ?? "")],
            [new TracingEntry(NewIds.IdFor(http, "entry"), tracing!)],
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
            version => Results.Created($"/api/horses/{horseId}/visits/{visitId}", EnteredAnswer.From(visitId, version, entries))
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
            return Problems.From(bad);
        var (entry, unreadable) = EntryReader.Read(r!.Entry, Numbered(http, "entry"));
        if (unreadable is not null)
            return Problems.From(unreadable);
        return await runner.Act(
            http,
            body,
            by => replace.Do(new ReplaceEntry.Input(horseId, visitId, entryId, entry!, r.Reason), by, ct),
            version => Results.Ok(EnteredAnswer.From(visitId, version, [entry!]))
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

    internal static Func<Guid> Numbered(HttpContext http, string what)
    {
        var number = 0;
        return () => NewIds.IdFor(http, what, number++);
    }
}
