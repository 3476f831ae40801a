using BackHistory.Application.Trends;
using BackHistory.Shape.Surfaces;

namespace BackHistory.Service.Compare;

/// <summary>Two backs of one horse, like with like, and the change between them.</summary>
/// <param name="HeightsLeftOut">
/// Only one of the two has a topline: what it tells of heights and places would show as change. Both are lofted flat then, each station
/// at one place.
/// </param>
/// <param name="Map">Null where the two nowhere lie side by side.</param>
internal sealed record ComparedBacks(BackSurface Now, bool HeightsLeftOut, ChangeMap? Map)
{
    /// <returns>Null when one of the two is no surface.</returns>
    public static ComparedBacks? Of(BackOfVisit earlier, BackOfVisit later, double stepMm)
    {
        if (earlier.Surface is not { } then || later.Surface is not { } now)
            return null;
        if (then.HeightsTraced == now.HeightsTraced)
            return new(now, false, ChangeMap.Between(then, now, stepMm));
        var places = (then.HeightsTraced ? then : now).Sections.ToDictionary(s => s.Station, s => s.FromDatum, StringComparer.Ordinal);
        return Flat(then, places) is { } flatThen && Flat(now, places) is { } flatNow
            ? new(flatNow, true, ChangeMap.Between(flatThen, flatNow, stepMm))
            : null;
    }

    /// <summary>Stations that the topline marks lie where it marks them, on both dates.</summary>
    private static BackSurface? Flat(BackSurface back, Dictionary<string, double> places) =>
        BackSurface.Loft(back.Sections.Select(s => s with { FromDatum = places.GetValueOrDefault(s.Station, s.FromDatum) })).Surface;
}
