using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape.Analysis;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Surfaces;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Trends;

/// <summary>What was traced at one visit: the registered contours, the topline, and the surface over them.</summary>
/// <param name="Assumed">Some station's place along the back was not measured at this visit and is the protocol's or a rule of
/// thumb.</param>
public sealed record BackOfVisit(
    VisitRecord Visit,
    IReadOnlyList<StationSection> Sections,
    Contour? Topline,
    BackSurface? Surface,
    bool Assumed
)
{
    public static async Task<BackOfVisit> Of(
        HorseQueries horses,
        string practice,
        Guid horseId,
        VisitRecord visit,
        IReadOnlyList<Station> protocol,
        CancellationToken ct
    )
    {
        var entries = visit.Entries.Where(e => e.Stands && e.Kind is "cross-section" or "topline").ToList();
        var tracings = await horses.TracingsAt(practice, horseId, [.. entries.Select(e => e.Version)], ct);
        Contour? ContourOf(EntryRecord e) =>
            tracings.TryGetValue(e.Version, out var tracing) ? TracingAnalysis.Analyse(tracing).Contour : null;

        var topline = entries.LastOrDefault(e => e.Kind == "topline") is { } top ? ContourOf(top) : null;
        var assumed = false;
        var sections = new List<StationSection>();
        foreach (
            var group in entries
                .Where(e => e is { Kind: "cross-section", Station: not null })
                .GroupBy(e => e.Station!, StringComparer.Ordinal)
        )
        {
            if (ContourOf(group.Last()) is not { } contour)
                continue;
            var (place, measured) = PlaceOf(group.Key, topline, protocol);
            if (place is not { } at)
                continue;
            assumed |= !measured;
            sections.Add(new StationSection(group.Key, at, contour));
        }

        var (surface, _) = BackSurface.Loft(sections, topline);
        return new BackOfVisit(visit, sections, topline, surface, assumed);
    }

    private static (double? At, bool Measured) PlaceOf(string station, Contour? topline, IReadOnlyList<Station> protocol)
    {
        if (topline is not null && topline.Marks.TryGetValue("shoulder", out var datum) && topline.Marks.TryGetValue(station, out var mark))
            return (mark.X - datum.X, true);
        if (protocol.FirstOrDefault(s => s.Key == station)?.FromDatumMm is { } agreed)
            return (agreed, false);
        return (Protocols.UsualFromDatumMm(station), false);
    }
}
