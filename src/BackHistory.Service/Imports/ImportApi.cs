using BackHistory.Application;
using BackHistory.Application.Imports;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

/// <summary>Bringing in old spreadsheets over HTTP: send in, say what the columns mean, try, enter, take back.</summary>
public static class ImportApi
{
    private const int PageSize = 500;

    public static void MapImport(this IEndpointRouteBuilder api)
    {
        var imports = api.MapGroup("/imports").WithTags("Import");
        imports
            .MapGet("/fields", Fields)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("What columns can mean, and what is asked about dates and units");
        imports
            .MapPost("/", SendIn)
            .Needs<SendTableIn>()
            .WithSummary("Send a spreadsheet in; the body is the .csv or .xlsx file")
            .Accepts<byte[]>("application/octet-stream");
        imports.MapGet("/", List).RequireAuthorization(Policies.Manage).WithSummary("Imports, newest first");
        imports.MapGet("/{importId:guid}", Get).RequireAuthorization(Policies.Manage).WithSummary("One import and how far it got");
        imports
            .MapPost("/{importId:guid}/try", Try)
            .Needs<TryImport>()
            .WithSummary("What would become of each line; nothing is saved")
            .Accepts<ImportPlan>("application/json");
        imports
            .MapPost("/{importId:guid}/enter", Enter)
            .Needs<EnterImport>()
            .WithSummary("Enter it in the background")
            .Accepts<ImportPlan>("application/json");
        imports.MapGet("/{importId:guid}/lines", Lines).RequireAuthorization(Policies.Manage).WithSummary("What became of each line");
        imports
            .MapGet("/{importId:guid}/take-back", Foresee)
            .RequireAuthorization(Policies.Manage)
            .WithSummary("What taking it back would take and leave, as things stand; nothing is taken back");
        imports
            .MapPost("/{importId:guid}/take-back", TakeBack)
            .Needs<TakeImportBack>()
            .WithSummary("Take back everything that it made, in the background; one that was not entered yet is discarded");
    }

    private static IResult Fields() =>
        Results.Ok(
            new FieldsAnswer(
                ImportFields.Of.ToDictionary(
                    f => f.Key,
                    f =>
                        (IReadOnlyList<FieldAnswer>)
                            [.. f.Value.Select(x => new FieldAnswer(x.Key, x.Says, x.Needed, ImportWords.NamesOf(x.Key)))]
                ),
                ImportFields.DateFormats,
                [".", ","],
                ImportFields.LengthUnits,
                ImportFields.WeightUnits
            )
        );

    private static async Task<IResult> SendIn(
        HttpContext http,
        SendTableIn act,
        TimeProvider time,
        string? name,
        string? sheet,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        var (by, bad) = CommandRequest.Caller(http, time);
        if (bad is not null)
            return Problems.From(bad);
        var id = NewIds.IdFor(http, "import");
        var (read, refused) = await act.Do(new(id, name, sheet, body), by!, ct);
        if (refused is not null)
            return Problems.From(refused);
        return Results.Created($"/api/imports/{id}", SheetAnswer.From(id, read!));
    }

    private static async Task<IResult> List(HttpContext http, ImportStore imports, TimeProvider time, CancellationToken ct) =>
        Results.Ok((await imports.All(SignedIn.From(http.User).Practice, ct)).Select(i => ImportAnswer.From(i, time.GetUtcNow())));

    private static async Task<IResult> Get(HttpContext http, ImportStore imports, TimeProvider time, Guid importId, CancellationToken ct) =>
        await imports.Load(SignedIn.From(http.User).Practice, importId, ct) is { } import
            ? Results.Ok(ImportAnswer.From(import, time.GetUtcNow()))
            : Problems.From(ImportRefusals.NoSuchImport);

    private static async Task<IResult> Try(
        HttpContext http,
        TryImport act,
        TimeProvider time,
        Guid importId,
        LineVerdict? verdict,
        int? after,
        CancellationToken ct
    )
    {
        var (plan, by, bad) = await Planned(http, time, ct);
        if (bad is not null)
            return Problems.From(bad);
        var (trial, refused) = await act.Do(new(importId, plan!), by!, ct);
        if (refused is not null)
            return Problems.From(refused);
        var lines = trial!
            .Lines.Where(l => l.Line > (after ?? 0) && (verdict is null || l.Verdict == verdict))
            .OrderBy(l => l.Line)
            .Take(PageSize + 1)
            .Select(LineAnswer.From)
            .ToList();
        return Results.Ok(
            new TrialAnswer(
                trial.Questions,
                trial.Counts,
                [.. lines.Take(PageSize)],
                lines.Count > PageSize ? lines[PageSize - 1].Line : null
            )
        );
    }

    private static async Task<IResult> Enter(HttpContext http, EnterImport act, TimeProvider time, Guid importId, CancellationToken ct)
    {
        var (plan, by, bad) = await Planned(http, time, ct);
        if (bad is not null)
            return Problems.From(bad);
        return await act.Do(new(importId, plan!), by!, ct) is { } refused ? Problems.From(refused) : Accepted(importId);
    }

    private static async Task<IResult> TakeBack(
        HttpContext http,
        TakeImportBack act,
        TimeProvider time,
        Guid importId,
        CancellationToken ct
    )
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.From(unread);
        var (by, bad) = CommandRequest.Caller(http, time);
        if (bad is not null)
            return Problems.From(bad);
        var (discarded, refused) = await act.Do(new(importId), by!, ct);
        if (refused is not null)
            return Problems.From(refused);
        return discarded ? Results.NoContent() : Accepted(importId);
    }

    private static async Task<IResult> Foresee(HttpContext http, ImportRollback back, Guid importId, CancellationToken ct) =>
        await back.Foresee(SignedIn.From(http.User).Practice, importId, ct) is { } forecast
            ? Results.Ok(forecast)
            : Problems.From(ImportRefusals.NoSuchImport);

    private static IResult Accepted(Guid importId) => Results.Accepted($"/api/imports/{importId}");

    private static async Task<IResult> Lines(
        HttpContext http,
        ImportStore imports,
        Guid importId,
        LineVerdict? verdict,
        int? after,
        CancellationToken ct
    )
    {
        var lines = await imports.Lines(SignedIn.From(http.User).Practice, importId, verdict, after ?? 0, PageSize + 1, ct);
        return Results.Ok(
            new LinesAnswer([.. lines.Take(PageSize).Select(LineAnswer.From)], lines.Count > PageSize ? lines[PageSize - 1].Line : null)
        );
    }

    private static async Task<(ImportPlan? Plan, Caller? By, Refused? Refused)> Planned(
        HttpContext http,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var (plan, bad) = Bodies.As<ImportPlan>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return (null, null, bad);
        if (plan!.Columns is null)
            return (null, null, new Refused("no-columns", "Say what the columns mean.", Place: "columns"));
        var (by, noKey) = CommandRequest.Caller(http, time);
        return (plan, by, noKey);
    }
}
