using BackHistory.Shape;
using BackHistory.Shape.Analysis;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.History.Tests;

/// <summary>What a sheet that leans does to the measures of a real tracing: the geometry on which telling a lean rests.</summary>
public sealed class TurnedSectionTests
{
    private const double Radian = Math.PI / 180;
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    [InlineData(2.5)]
    public void A_section_turned_clockwise_reads_its_right_side_steeper_by_as_much_and_its_left_side_flatter(double degrees)
    {
        var (level, turned) = (Measured(0), Measured(degrees));
        Assert.Equal(degrees, turned["slope-right"] - level["slope-right"], 0.05);
        Assert.Equal(-degrees, turned["slope-left"] - level["slope-left"], 0.05);
        Assert.Equal(2 * degrees, turned["skew-slope"] - level["skew-slope"], 0.1);
        foreach (var kept in new[] { "opening", "fill-left", "fill-right" })
            Assert.Equal(level[kept], turned[kept], 0.1);
        // To the second order a width shrinks by the cosine and less.
        Assert.Equal(level["width@100"], turned["width@100"], 0.02 * level["width@100"]);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(150)]
    public void A_half_area_turned_by_a_degree_changes_by_half_of_its_reach_and_depth_squared(int depth)
    {
        var (left, right) = (Measured(-0.5), Measured(0.5));
        var reach = Measured(0)[$"width@{depth}"] / 2;
        var swept = (reach * reach + depth * depth) / 2 * Radian / 100;
        Assert.Equal(-swept, right[$"half-area-right@{depth}"] - left[$"half-area-right@{depth}"], 0.02 * swept);
        Assert.Equal(swept, right[$"half-area-left@{depth}"] - left[$"half-area-left@{depth}"], 0.02 * swept);
        Assert.True(right[$"skew-area@{depth}"] < left[$"skew-area@{depth}"]);
    }

    [Theory]
    [InlineData(1.5)]
    [InlineData(-3)]
    public void A_visit_traced_by_a_sheet_that_leans_is_seen_to_lean_by_as_much(double degrees)
    {
        var lean = VisitLean.Find(Visits(degrees), 20200, [20000, 20100], WatchRules.Default);
        Assert.Equal(degrees, lean!.Turned.Value, 0.1);
        Assert.Equal(0, lean.SharedDegrees, 0.1);
        Assert.Equal(4, lean.Stations);
    }

    /// <summary>The quiet visits, and one whose sheet leaned.</summary>
    private static List<WatchedSeries> Visits(double lean)
    {
        var values = new[] { (Day: 20000.0, Lean: 0.0), (20100, 0), (20200, lean) }
            .SelectMany(v => Stations.SelectMany((s, i) => Measured(v.Lean, 48 - 4 * i).Select(m => (v.Day, Station: s, m.Key, m.Value))))
            .Where(v => WatchRules.Default.ThresholdOf(v.Key) is not null);
        return
        [
            .. values
                .GroupBy(v => (v.Key, v.Station))
                .Select(g =>
                {
                    var (sd, layers) = WatchRules.Default.NoiseOf(g.Key.Key)!.At(g.First().Value);
                    return new WatchedSeries(
                        g.Key.Key,
                        g.Key.Station,
                        g.Key.Key.Contains("area", StringComparison.Ordinal) ? "cm2" : "deg",
                        [.. g.Select(v => new Observation(v.Day, v.Value, sd))],
                        layers,
                        WatchRules.Default.ThresholdOf(g.Key.Key)!
                    );
                }),
        ];
    }

    /// <summary>Measured as the service does it, after the whole sheet was turned clockwise about the midline mark.</summary>
    private static Dictionary<string, double> Measured(double degrees, double slope = 45)
    {
        var (sin, cos) = Math.SinCos(-degrees * Radian);
        var section = Backs.Section(slope, slope);
        var turned = section with { Points = [.. section.Points.Select(p => new Point(p.X * cos - p.Y * sin, p.X * sin + p.Y * cos))] };
        return TracingAnalysis.Analyse(turned).Measures.Where(m => m.Value is not null).ToDictionary(m => m.Key, m => m.Value!.Value);
    }
}
