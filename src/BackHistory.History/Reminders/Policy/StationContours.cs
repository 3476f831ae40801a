using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape.Deformations;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// A horse's cross-sections as the middle of all that was ever measured of them draws them, and what changes of them do to each measure.
/// The middle of many visits is steadier than the one at the fit, and a change that matters bends a loading less than one tracing errs.
/// </summary>
internal sealed class StationContours(IEnumerable<MeasureRow> rows)
{
    private readonly ILookup<string, MeasureRow> _rows = rows.Where(r => r.Station is not null)
        .ToLookup(r => r.Station!, StringComparer.Ordinal);

    private readonly Dictionary<string, SectionProfile?> _profiles = new(StringComparer.Ordinal);

    /// <returns>Null where the contour is not known well enough, or the measure is none of a contour.</returns>
    public ContourGains? GainsOf(string measure, string? station)
    {
        if (station is null)
            return null;
        if (!_profiles.TryGetValue(station, out var profile))
            _profiles[station] = profile = SectionProfile.From(key => Middle(station, key));
        return profile?.GainsOf(measure) is not { } gains
            ? null
            : new ContourGains(
                measure.StartsWith("read-", StringComparison.Ordinal) ? 0 : gains.Turn,
                gains.FlanksTurn,
                Ways(gains.LeftMuscle, gains.LeftFlank),
                Ways(gains.RightMuscle, gains.RightFlank),
                gains.Cover,
                Along(measure, station)
            );
    }

    /// <summary>From the station before to the one behind, where both are usual ones; 0 where none is.</summary>
    private double Along(string measure, string station)
    {
        if (Protocols.UsualFromDatumMm(station) is not { } here || measure.StartsWith("read-", StringComparison.Ordinal))
            return 0;
        (double At, double Value)? before = null,
            behind = null;
        foreach (var other in _rows.Select(g => g.Key))
        {
            if (Protocols.UsualFromDatumMm(other) is not { } at || Middle(other, measure) is not { } value)
                continue;
            if (at <= here && (before is not { } b || at > b.At) && other != station)
                before = (at, value);
            if (at >= here && (behind is not { } c || at < c.At) && other != station)
                behind = (at, value);
        }

        var own = Middle(station, measure) is { } known ? (here, known) : ((double, double)?)null;
        var (from, to) = (before ?? own, behind ?? own);
        return from is { } f && to is { } t && t.Item1 > f.Item1 ? (t.Item2 - f.Item2) / (t.Item1 - f.Item1) : 0;
    }

    /// <summary>A side fills or falls in as a hump somewhere on its flank, or with all of its flank.</summary>
    private static double[] Ways(MuscleGains muscle, double flank) => [muscle.Inner, muscle.Middle, muscle.Outer, flank];

    private double? Middle(string station, string key)
    {
        var values = _rows[station].Where(r => r.Key == key && r.Value is not null).Select(r => r.Value!.Value).Order().ToList();
        return values.Count == 0 ? null : (values[(values.Count - 1) / 2] + values[values.Count / 2]) / 2;
    }
}
