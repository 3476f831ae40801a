using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Imports;
using Hangfire;

namespace BackHistory.Service.Imports;

/// <param name="Examples">The first lines, as they are read.</param>
public sealed record SheetAnswer(Guid Id, IReadOnlyList<string> Headers, IReadOnlyList<IReadOnlyList<string>> Examples, int Lines);

public sealed record FieldAnswer(string Key, string Says, bool Needed);

public sealed record FieldsAnswer(
    IReadOnlyDictionary<ImportKind, IReadOnlyList<FieldAnswer>> Fields,
    IReadOnlyList<string> DateFormats,
    IReadOnlyList<string> DecimalMarks,
    IReadOnlyList<string> LengthUnits,
    IReadOnlyList<string> WeightUnits
);

public sealed record LineAnswer(
    int Line,
    LineVerdict Verdict,
    string? Code,
    string? Message,
    string? Column,
    bool TakenBack = false,
    string? StaysBecause = null
)
{
    internal static LineAnswer Of(ImportLine l) => new(l.Line, l.Verdict, l.Code, l.Message, l.Column, l.TakenBack, l.StaysBecause);
}

/// <param name="Next">The line after which to go on; null at the end.</param>
public sealed record TrialAnswer(IReadOnlyList<ImportQuestion> Questions, ImportCounts Counts, IReadOnlyList<LineAnswer> Lines, int? Next);

public sealed record LinesAnswer(IReadOnlyList<LineAnswer> Lines, int? Next);

/// <summary>Bringing in old spreadsheets over HTTP: send in, say what the columns mean, try, enter, take back.</summary>
public static class ImportApi
{
    private const int PageSize = 500;

    public static void MapImport(this IEndpointRouteBuilder api)
    {
        var imports = api.MapGroup("/imports").WithTags("Import").RequireAuthorization(Policies.Manage);
        imports.MapGet("/fields", Fields).WithSummary("What columns can mean, and what is asked about dates and units");
        imports
            .MapPost("/", SendIn)
            .WithSummary("Send a spreadsheet in; the body is the .csv or .xlsx file")
            .Accepts<byte[]>("application/octet-stream");
        imports.MapGet("/", List).WithSummary("Imports, newest first");
        imports.MapGet("/{importId:guid}", Get).WithSummary("One import and how far it got");
        imports
            .MapPost("/{importId:guid}/try", Try)
            .WithSummary("What would become of each line; nothing is saved")
            .Accepts<ImportPlan>("application/json");
        imports.MapPost("/{importId:guid}/enter", Enter).WithSummary("Enter it in the background").Accepts<ImportPlan>("application/json");
        imports.MapGet("/{importId:guid}/lines", Lines).WithSummary("What became of each line");
        imports
            .MapPost("/{importId:guid}/take-back", TakeBack)
            .WithSummary("Take back everything that it made, in the background; one that was not entered yet is discarded");
    }

    private static IResult Fields() =>
        Results.Ok(
            new FieldsAnswer(
                ImportFields.Of.ToDictionary(
                    f => f.Key,
                    f => (IReadOnlyList<FieldAnswer>)[.. f.Value.Select(x => new FieldAnswer(x.Key, x.Says, x.Needed))]
                ),
                ImportFields.DateFormats,
                [".", ","],
                ImportFields.LengthUnits,
                ImportFields.WeightUnits
            )
        );

    private static async Task<IResult> SendIn(
        HttpContext http,
        ImportStore imports,
        TimeProvider time,
        string? name,
        string? sheet,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        if (name?.Length > 120)
            return Problems.Of(new Refused("long-name", "Keep the file's name under 120 letters.", Place: "name"));
        var (read, refused) = Sheet.Read(body, sheet);
        if (refused is not null)
            return Problems.Of(SheetLine.Refusing(refused));
        var who = SignedIn.From(http.User);
        var id = NewIds.Of(http, "import");
        var import = new BackHistory.Store.Imports.Import(
            id,
            name ?? "spreadsheet",
            await imports.TakenBack(who.Practice, ct),
            time.GetUtcNow(),
            who.PersonId
        )
        {
            Sheet = sheet,
            Lines = read!.Rows.Count,
        };
        await imports.Keep(who.Practice, import, body, ct);
        return Results.Created(
            $"/api/imports/{id}",
            new SheetAnswer(
                id,
                read.Headers,
                [.. read.Rows.Take(5).Select(r => (IReadOnlyList<string>)[.. r.Cells.Select(c => c.Text)])],
                read.Rows.Count
            )
        );
    }

    private static async Task<IResult> List(HttpContext http, ImportStore imports, CancellationToken ct) =>
        Results.Ok(await imports.All(SignedIn.From(http.User).Practice, ct));

    private static async Task<IResult> Get(HttpContext http, ImportStore imports, Guid importId, CancellationToken ct) =>
        await imports.Load(SignedIn.From(http.User).Practice, importId, ct) is { } import
            ? Results.Ok(import)
            : Problems.Of(ImportRefusals.NoSuchImport);

    private static async Task<IResult> Try(
        HttpContext http,
        ImportStore imports,
        Importer importer,
        Guid importId,
        LineVerdict? verdict,
        int? after,
        CancellationToken ct
    )
    {
        var (import, plan, bad) = await Planned(http, imports, importId, ct);
        if (bad is not null)
            return Problems.Of(bad);
        var (trial, refused) = await importer.Try(SignedIn.From(http.User).Practice, import! with { Plan = plan }, ct);
        if (refused is not null)
            return Problems.Of(refused);
        var lines = trial!
            .Lines.Where(l => l.Line > (after ?? 0) && (verdict is null || l.Verdict == verdict))
            .OrderBy(l => l.Line)
            .Take(PageSize + 1)
            .Select(LineAnswer.Of)
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

    private static async Task<IResult> Enter(
        HttpContext http,
        ImportStore imports,
        Importer importer,
        IBackgroundJobClient jobs,
        Guid importId,
        CancellationToken ct
    )
    {
        var (import, plan, bad) = await Planned(http, imports, importId, ct);
        if (bad is not null)
            return Problems.Of(bad);
        var practice = SignedIn.From(http.User).Practice;
        if (import!.State == ImportState.Entering)
            return Accepted(jobs, practice, importId);
        if (import.State != ImportState.SentIn)
            return Problems.Of(ImportRefusals.NotNow);
        var planned = import with { Plan = plan };
        var (trial, refused) = await importer.Try(practice, planned, ct);
        if (refused is not null)
            return Problems.Of(refused);
        if (trial!.Questions.Count > 0)
            return Problems.Of(ImportRefusals.Unanswered);
        // Discarded or entered by somebody else since it was tried, it stays as it is.
        var entering = await imports.Change(
            practice,
            importId,
            i => i.State == ImportState.SentIn ? i with { Plan = plan, State = ImportState.Entering } : i,
            ct
        );
        return entering is null ? Problems.Of(ImportRefusals.NoSuchImport) : Accepted(jobs, practice, importId);
    }

    private static async Task<IResult> TakeBack(
        HttpContext http,
        ImportStore imports,
        IBackgroundJobClient jobs,
        Guid importId,
        CancellationToken ct
    )
    {
        if (Bodies.NotNothing(await Bodies.Read(http.Request, ct)) is { } unread)
            return Problems.Of(unread);
        var practice = SignedIn.From(http.User).Practice;
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return Problems.Of(RequestRefusals.NoKey);
        if (await imports.Load(practice, importId, ct) is not { } import)
            return Problems.Of(ImportRefusals.NoSuchImport);
        if (import.State == ImportState.SentIn)
            return await imports.Discard(practice, importId, ct) ? Results.NoContent() : Problems.Of(ImportRefusals.NotNow);
        if (import.State is not (ImportState.Entered or ImportState.ImportRollback))
            return Problems.Of(ImportRefusals.NotNow);
        await imports.Change(
            practice,
            importId,
            i => i.State == ImportState.Entered ? i with { State = ImportState.ImportRollback } : i,
            ct
        );
        return Accepted(jobs, practice, importId);
    }

    /// <summary>Queued again where the first word was lost: entering what is entered does nothing.</summary>
    private static IResult Accepted(IBackgroundJobClient jobs, string practice, Guid importId)
    {
        jobs.Enqueue<ImportJob>(job => job.Run(practice, importId, CancellationToken.None));
        return Results.Accepted($"/api/imports/{importId}");
    }

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
            new LinesAnswer([.. lines.Take(PageSize).Select(LineAnswer.Of)], lines.Count > PageSize ? lines[PageSize - 1].Line : null)
        );
    }

    private static async Task<(BackHistory.Store.Imports.Import? Import, ImportPlan? Plan, Refused? Refused)> Planned(
        HttpContext http,
        ImportStore imports,
        Guid importId,
        CancellationToken ct
    )
    {
        var (plan, bad) = Bodies.As<ImportPlan>(await Bodies.Read(http.Request, ct));
        if (bad is not null)
            return (null, null, bad);
        if (plan!.Columns is null)
            return (null, null, new Refused("no-columns", "Say what the columns mean.", Place: "columns"));
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"]))
            return (null, null, RequestRefusals.NoKey);
        return await imports.Load(SignedIn.From(http.User).Practice, importId, ct) is { } import
            ? (import, plan, null)
            : (null, null, ImportRefusals.NoSuchImport);
    }
}
