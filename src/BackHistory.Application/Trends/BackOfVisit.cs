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
    public static async Task<BackOfVisit> Load(
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
        var datum = Datum(topline, protocol);
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
            var (place, measured) = PlaceOf(group.Key, topline, datum, protocol);
            if (place is not { } at)
                continue;
            assumed |= !measured;
            sections.Add(new StationSection(group.Key, at, contour));
        }

        var (surface, _) = BackSurface.Loft(sections, topline);
        return new BackOfVisit(visit, sections, topline, surface, assumed);
    }

    /// <summary>Where the datum lies on a topline, mm along its chord: by the first station of the protocol that is marked on it and whose
    /// place is agreed; the one that is the datum itself comes before all others.</summary>
    private static double? Datum(Contour? topline, IReadOnlyList<Station> protocol) =>
        topline is null
            ? null
            : protocol
                .Select(s => (Agreed: Protocols.PlaceOf(s), Mark: topline.Marks.TryGetValue(s.Key, out var mark) ? mark.X : (double?)null))
                .Where(s => s is { Agreed: not null, Mark: not null })
                .OrderByDescending(s => s.Agreed == 0)
                .Select(s => s.Mark - s.Agreed)
                .FirstOrDefault();

    private static (double? At, bool Measured) PlaceOf(string station, Contour? topline, double? datum, IReadOnlyList<Station> protocol)
    {
        if (datum is { } zero && topline!.Marks.TryGetValue(station, out var mark))
            return (mark.X - zero, true);
        var known = protocol.FirstOrDefault(s => s.Key == station);
        return (known is null ? Protocols.UsualFromDatumMm(station) : Protocols.PlaceOf(known), false);
    }
}
