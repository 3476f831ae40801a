using BackHistory.Shape.Contours;

namespace BackHistory.Shape.Quality;

/// <summary>
/// `uncertain`: a measure whose own standard error is past what any hand would scatter. Four times what the same hand does when it traces
/// again (<see cref="HandScatter"/>) is 4° of a slope, 10 mm of a width, 8 % of an area: as much as a change that matters, so the number
/// says nothing. Something is wrong with the points then, or with the curve through them. Four is a rule of thumb.
/// </summary>
internal static class UncertainMeasures
{
    private const double Times = 4;

    internal static void Judge(Contour contour, IReadOnlyList<Measure> measures, List<QualityFlag> flags)
    {
        foreach (var measure in measures)
        {
            if (measure is not { Value: { } value, Sd: { } sd } || !(sd > Times * HandScatter.SdOf(measure.Key, value)))
                continue;
            var (side, from, to) = MeasuredPlace.PlaceOf(contour, measure.Key);
            flags.Add(new("uncertain", side, from, to, (to - from).Length, measure.Key));
        }
    }
}
