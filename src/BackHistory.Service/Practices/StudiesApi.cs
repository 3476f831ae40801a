using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Language.Decisions;
using BackHistory.Reports.Charts;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Practices;
using BackHistory.Trends.Repeats;

namespace BackHistory.Service.Practices;

/// <summary>A study of repeatability, step by step: begin it, measure each horse again and again at a visit, name the visit, finish. Its
/// verdict is in words.</summary>
public static class StudiesApi
{
    private static readonly Refused NoSuchStudy = new(
        "no-such-study",
        "There is no such study, or it was withdrawn.",
        RefusalKind.NotFound
    );

    public static void MapStudies(this IEndpointRouteBuilder api)
    {
        var studies = api.MapGroup("/practice/studies").WithTags("Repeatability");
        studies
            .MapPost("/guided", Begin)
            .Needs<BeginGuidedStudy>()
            .WithSummary("Set out to measure some horses again and again")
            .Accepts<BeginStudyRequest>("application/json");
        studies
            .MapPost("/{studyId:guid}/visits", Count)
            .Needs<CountTowardsStudy>()
            .WithSummary("A visit counts towards the study")
            .Accepts<CountVisitRequest>("application/json");
        studies
            .MapPost("/{studyId:guid}/finish", Finish)
            .Needs<FinishGuidedStudy>()
            .WithSummary("All horses are measured: judge by these hands from now on");
        studies
            .MapGet("/{studyId:guid}", Get)
            .RequireAuthorization(Policies.See)
            .WithSummary("Where the study stands, what to do next, and what it says so far");
        studies
            .MapGet("/{studyId:guid}/agreement.{form}", Agreement)
            .RequireAuthorization(Policies.See)
            .WithSummary("First against second tracing, difference over mean (Bland and Altman 1986)");
    }

    private static Task<IResult> Begin(HttpContext http, CommandRunner runner, BeginGuidedStudy begin, CancellationToken ct)
    {
        var id = NewIds.IdFor(http, "guided-study");
        return runner.Act<BeginStudyRequest>(
            http,
            (r, by) => begin.Do(new BeginGuidedStudy.Input(id, r.Method, r.Horses ?? 5, r.Times ?? 2), by, ct),
            outcome => Written.Creating(outcome, id)
        );
    }

    private static Task<IResult> Count(
        HttpContext http,
        CommandRunner runner,
        CountTowardsStudy count,
        Guid studyId,
        CancellationToken ct
    ) =>
        runner.Act<CountVisitRequest>(
            http,
            (r, by) => count.Do(new CountTowardsStudy.Input(studyId, r.HorseId, r.VisitId), by, ct),
            outcome => Results.Ok(new Written(studyId, outcome.Version))
        );

    private static Task<IResult> Finish(
        HttpContext http,
        CommandRunner runner,
        FinishGuidedStudy finish,
        Guid studyId,
        CancellationToken ct
    ) =>
        runner.Act(
            http,
            [],
            by => finish.Do(new FinishGuidedStudy.Input(studyId), by, ct),
            version => Results.Ok(new Written(studyId, version))
        );

    private static async Task<IResult> Get(
        HttpContext http,
        PracticeQueries practices,
        StudyQueries studies,
        Guid studyId,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        return await Progress(tenant, practice, studies, studyId, ct) is { } progress ? Results.Ok(progress) : Problems.From(NoSuchStudy);
    }

    /// <returns>Null when the practice has no such study.</returns>
    internal static async Task<StudyProgress?> Progress(
        string tenant,
        History.Practices.Practice practice,
        StudyQueries studies,
        Guid studyId,
        CancellationToken ct
    )
    {
        if (practice.Studies.GetValueOrDefault(studyId) is { } table)
        {
            var rows = Repeats.RepeatsIn(table, PracticeClock.Zone(practice)).ToList();
            return new StudyProgress(
                studyId,
                table.Method,
                table.Subjects.Count,
                table.Subjects.Max(s => s.Count),
                true,
                table.Subjects.Count,
                "The study is a table that was entered whole.",
                [],
                Findings(rows, practice)
            );
        }

        if (practice.GuidedStudies.GetValueOrDefault(studyId) is not { } study)
            return null;
        var visits = await studies.Visits(tenant, study, ct);
        var counted = visits
            .Select(v => new StudyVisit(
                v.HorseId,
                v.Id,
                Repeats.RepeatsIn([v], PracticeClock.Zone(practice)).Select(m => m.Visit.Tracings.Count).DefaultIfEmpty(0).Max()
            ))
            .ToList();
        return new StudyProgress(
            studyId,
            study.Method,
            study.Horses,
            study.Times,
            study.Finished,
            study.HorsesDone,
            Next(study, counted),
            counted,
            Findings([.. Repeats.RepeatsIn(visits, PracticeClock.Zone(practice))], practice)
        );
    }

    private static async Task<IResult> Agreement(
        HttpContext http,
        PracticeQueries practices,
        StudyQueries studies,
        Guid studyId,
        string form,
        string measure,
        string? station,
        string? theme,
        int? width,
        int? height,
        CancellationToken ct
    )
    {
        var tenant = SignedIn.From(http.User).Practice;
        if (await practices.Load(tenant, ct) is not { } practice)
            return Problems.From(PracticeRefusals.NoSuchPractice);
        IReadOnlyList<RepeatedMeasure> repeats;
        if (practice.Studies.GetValueOrDefault(studyId) is { } table)
            repeats = [.. Repeats.RepeatsIn(table, PracticeClock.Zone(practice))];
        else if (practice.GuidedStudies.GetValueOrDefault(studyId) is { } study)
            repeats = [.. Repeats.RepeatsIn(await studies.Visits(tenant, study, ct), PracticeClock.Zone(practice))];
        else
            return Problems.From(NoSuchStudy);
        var kept = repeats.Where(r => r.Measure == measure && (station is null || r.Station == station)).ToList();
        return Findings(kept, practice) is not [{ Agreement: not null } finding, ..]
            ? Problems.From(Pictures.NothingToDraw)
            : Pictures.Answer(BlandAltmanChart.Draw(Chart(finding, station), Pictures.Theme(theme), Pictures.Size(width, height)), form);
    }

    private static BlandAltmanInput Chart(StudyFinding finding, string? station)
    {
        var agreement = finding.Agreement!;
        var unit = Formatter.Unit(finding.Unit);
        return new BlandAltmanInput
        {
            Finding =
                $"{Formatter.Metric.Measure(finding.Measure)}: two tracings of one visit agree within "
                + $"{Formatter.Metric.Number((agreement.High - agreement.Low) / 2, finding.Unit)} 95 times in 100",
            Subject = $"{Formatter.Metric.Subject(finding.Measure, station)}, {finding.Horses} horses, first against second tracing",
            Unit = unit,
            Decimals = 1,
            // From mean and difference back to the pair.
            Pairs = [.. agreement.Points.Select(p => new PairedReading(p.Mean + p.Difference / 2, p.Mean - p.Difference / 2))],
            Bias = agreement.Bias,
            LowerLimit = agreement.Low,
            UpperLimit = agreement.High,
        };
    }

    private static IReadOnlyList<StudyFinding> Findings(IReadOnlyList<RepeatedMeasure> repeats, History.Practices.Practice practice) =>
        [.. StudyFinding.FindingsFrom(repeats, practice.Rules, MeasureRegistry.UnitOf).Select(f => f with { Says = f.InWords() })];

    private static string Next(GuidedStudy study, IReadOnlyList<StudyVisit> visits)
    {
        if (study.Finished)
            return "The study is finished; decisions rest on it where it has repeats enough.";
        if (visits.FirstOrDefault(v => v.Times < study.Times) is { } few)
            return $"A horse was traced {few.Times} times of {study.Times}: trace it again into the same visit.";
        var left = study.Horses - study.HorsesDone;
        return left > 0
            ? $"Horse {study.HorsesDone + 1} of {study.Horses}: record a visit and trace each station {study.Times} times. Between two "
                + $"tracings lift the ruler, let the horse walk a few steps and find the stations anew."
            : "All horses are measured: finish the study. Measured again on another day within two weeks, they would tell what days "
                + "add, too.";
    }
}
