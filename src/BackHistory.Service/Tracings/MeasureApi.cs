using System.Globalization;
using BackHistory.Application.Visits;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Language.Visits;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Tracings;

/// <summary>The server's own computation for the tracing desk.</summary>
public static class MeasureApi
{
    private const double StepMm = 2;

    private const int MostReadings = 20;

    public static void MapMeasuring(this IEndpointRouteBuilder api)
    {
        api.MapPost("/measure", Measure)
            .RequireAuthorization(Policies.See)
            .WithTags("Tracings")
            .WithSummary("Measure a tracing without recording it")
            .Accepts<Tracing>("application/json");
        api.MapGet("/horses/{horseId:guid}/contours/{kind}", Last)
            .RequireAuthorization(Policies.See)
            .WithTags("Tracings")
            .WithSummary("The latest registered curve of a station, or of the topline, before a visit");
    }

    /// <param name="reading">What was read by hand of the same, as <c>measure:degrees</c> or <c>measure@station:degrees</c>.</param>
    /// <param name="method">With what it was traced.</param>
    /// <param name="scale">Where it was traced over a picture: how that became millimetres.</param>
    private static async Task<IResult> Measure(
        HttpContext http,
        PracticeQueries practices,
        [FromQuery] string[]? reading,
        string? method,
        [AsParameters] SentScale scale,
        CancellationToken ct
    )
    {
        var body = await Bodies.Read(http.Request, ct);
        if (SentText.Problem(body) is { } unkeepable)
            return Problems.From(unkeepable);
        var read = TracingJson.Read(body);
        if (read.Refused is { } refused)
            return Results.Ok(new MeasuredTracing(refused, [], [], [], []));
        if (read.Tracing!.Points.Length > TracingLimits.MostPoints)
            return Results.Ok(
                new MeasuredTracing(new Refusal("too-many-points", $"At most {TracingLimits.MostPoints} points are taken."), [], [], [], [])
            );
        var who = SignedIn.From(http.User);
        var practice = await practices.Load(who.Practice, ct);
        var say = practice is null ? Formatter.Metric : new Formatter(practice.Units.Lengths);
        var answer = AnswerFor(read.Tracing, say, scale.Taken);
        return Results.Ok(practice is null ? answer : answer with { Concerns = [.. answer.Concerns, .. Apart(practice)] });

        IEnumerable<string> Apart(Practice known) =>
            from text in (reading ?? []).Take(MostReadings)
            let taken = ReadingTaken(text, read.Tracing.Station)
            where taken is not null
            let apart = ReadingsAgainstTracings.OfReading(
                taken.Measure,
                taken.Station,
                taken.Value,
                answer.AsMeasures(),
                [.. known.Stations.Select(s => s.Key)],
                method ?? "",
                who.PersonId,
                known.WatchBy()
            )
            where apart is not null
            select apart.InWords();
    }

    /// <summary>What cannot be read is what nobody read.</summary>
    private static ReadingEntry? ReadingTaken(string text, string? station)
    {
        var at = text.LastIndexOf(':');
        if (
            at < 0
            || !double.TryParse(text.AsSpan(at + 1), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            || !double.IsFinite(value)
        )
            return null;
        var named = text[..at].Split('@');
        return new ReadingEntry(Guid.Empty, named[0], named.Length > 1 ? named[1] : station, value);
    }

    private static async Task<IResult> Last(
        HttpContext http,
        HorseQueries horses,
        PracticeQueries practices,
        Guid horseId,
        string kind,
        string? station,
        Guid? before,
        CancellationToken ct
    )
    {
        var practice = SignedIn.From(http.User).Practice;
        var visits = await horses.Visits(practice, horseId, ct);
        if (visits is null)
            return Problems.From(HorseRefusals.NoSuchHorse);
        var until = visits.FirstOrDefault(v => v.Id == before)?.TakenAt ?? DateTimeOffset.MaxValue;
        var entry = visits
            .Where(v => !v.Withdrawn && v.TakenAt < until)
            .OrderByDescending(v => v.TakenAt)
            .SelectMany(v => v.Entries)
            .FirstOrDefault(e => e.Stands && e.Kind == kind && (kind == "topline" || e.Station == station));
        var tracings = entry is null ? null : await horses.TracingsAt(practice, horseId, [entry.Version], ct);
        return tracings?.Values.FirstOrDefault() is { } tracing
            ? Results.Ok(AnswerFor(tracing, await In(practices, practice, ct)))
            : Problems.From(NeverTraced);
    }

    private static readonly History.Refused NeverTraced = new(
        "never-traced",
        "This was never traced before.",
        History.RefusalKind.NotFound
    );

    private static async Task<Formatter> In(PracticeQueries practices, string practice, CancellationToken ct) =>
        await practices.Load(practice, ct) is { } known ? new Formatter(known.Units.Lengths) : Formatter.Metric;

    private static MeasuredTracing AnswerFor(Tracing tracing, Formatter say, PictureScale? scale = null)
    {
        var answer = TracingAnalysis.Analyse(tracing);
        if (scale is not null)
            answer = scale.Widen(tracing, answer);
        return new MeasuredTracing(
            answer.Refused,
            [.. answer.Measures.Select(m => new MeasuredRow(m.Key, m.Value, m.Unit, m.Sd, m.Why, say.Measure(m.Key), Reads(m, say)))],
            answer.Flags,
            [.. answer.Flags.Select(f => f.InWords(say))],
            answer.Contour is { } contour ? contour.Sample(StepMm) : []
        );
    }

    private static string? Reads(Measure m, Formatter say) =>
        m.Value is not { } value ? null
        : m.Sd is > 0 and var sd ? say.Level(value, sd, m.Unit)
        : say.Number(value, m.Unit);
}
