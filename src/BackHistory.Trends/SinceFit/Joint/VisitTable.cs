using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>
/// The watched series of one horse by visit (UTC day), each value in thresholds from the mean of its series, with the variance of that
/// visit's mean (visit and trace layers) and who took it.
/// </summary>
internal sealed class VisitTable
{
    internal readonly record struct Cell(bool Measured, double Value, double Variance, int Rater);

    internal const int Unnamed = -1;

    internal required double[] Days { get; init; }

    /// <summary>Visit by series.</summary>
    internal required Cell[][] Cells { get; init; }

    /// <summary>Variance of a pair of hands, in squared thresholds, by series.</summary>
    internal required double[] PersonVariance { get; init; }
    internal required int Raters { get; init; }

    /// <summary>How stance and breathing move each series (<see cref="NoiseRule.Breathes"/>).</summary>
    internal required int[] Breathes { get; init; }

    /// <summary>−1 for measures of the left side, 1 for those of the right, 0 for the others.</summary>
    internal required int[] Sides { get; init; }

    internal static VisitTable From(IReadOnlyList<WatchedSeries> series, double[] thresholds, double asOfDay, WatchRules rules)
    {
        var days = new SortedSet<double>();
        foreach (var s in series)
        foreach (var o in s.Observations)
            if (o.Day <= asOfDay)
                days.Add(Series.Days.CalendarDay(o.Day));
        var visits = days.ToArray();
        var index = new Dictionary<double, int>();
        foreach (var day in visits)
            index[day] = index.Count;
        var cells = new Cell[visits.Length][];
        for (var v = 0; v < visits.Length; v++)
            cells[v] = new Cell[series.Count];
        var names = new Dictionary<string, int>(StringComparer.Ordinal);
        var moment = new double[visits.Length];
        for (var i = 0; i < series.Count; i++)
        {
            // A share of a level of nothing is no threshold: such a measure cannot be judged with the others.
            if (!(thresholds[i] > 0 && double.IsFinite(thresholds[i])))
                continue;
            foreach (var o in series[i].Observations)
            {
                if (o.Day > asOfDay)
                    continue;
                var v = index[Series.Days.CalendarDay(o.Day)];
                moment[v] = o.Day;
                cells[v][i] = Add(cells[v][i], o, HandsOf(o.By, names));
            }
            Scale(cells, i, thresholds[i], series[i].Noise);
        }
        return new()
        {
            Days = moment,
            Cells = cells,
            PersonVariance =
            [
                .. series.Select((s, i) => thresholds[i] > 0 ? s.Noise.PersonSd * s.Noise.PersonSd / (thresholds[i] * thresholds[i]) : 0),
            ],
            Raters = names.Count,
            Breathes = [.. series.Select(s => rules.NoiseOf(s.Measure)?.Breathes ?? 0)],
            Sides = [.. series.Select(s => MeasureKey.SideOf(s.Measure))],
        };
    }

    static int HandsOf(string? by, Dictionary<string, int> names)
    {
        if (by is null)
            return Unnamed;
        if (!names.TryGetValue(by, out var rater))
            names[by] = rater = names.Count;
        return rater;
    }

    /// <summary>Tracings of one visit by inverse variance; hands that change within a visit count as unnamed.</summary>
    static Cell Add(Cell cell, Observation o, int rater)
    {
        var variance = o.Sd * o.Sd;
        if (!cell.Measured)
            return new(true, o.Value, variance, rater);
        var total = cell.Variance + variance;
        return new(
            true,
            (cell.Value * variance + o.Value * cell.Variance) / total,
            cell.Variance * variance / total,
            cell.Rater == rater ? rater : Unnamed
        );
    }

    static void Scale(Cell[][] cells, int i, double threshold, NoiseLayers noise)
    {
        double sum = 0;
        var n = 0;
        foreach (var row in cells)
            if (row[i].Measured)
            {
                sum += row[i].Value;
                n++;
            }
        foreach (var row in cells)
        {
            if (!row[i].Measured)
                continue;
            row[i] = row[i] with
            {
                Value = (row[i].Value - sum / n) / threshold,
                Variance = (row[i].Variance + noise.VisitSd * noise.VisitSd) / (threshold * threshold),
            };
        }
    }
}
