using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Policy;
using BackHistory.Shape.Analysis;
using BackHistory.Testing;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Tests.Reminders;

/// <summary>What a horse's own contours say of how its measures move, as the series that are judged carry it.</summary>
public sealed class StationContoursTests
{
    [Fact]
    public void A_flat_back_widens_more_by_a_degree_of_its_flanks_than_a_steep_one()
    {
        var (flat, steep) = (Width(Of(34)), Width(Of(56)));
        Assert.True(flat.FlanksTurn > 1.2 * steep.FlanksTurn, $"{flat.FlanksTurn} and {steep.FlanksTurn} mm a degree");
        Assert.Equal(0, flat.Turn, 0.05);
    }

    [Fact]
    public void Readings_go_by_gravity_and_take_the_flanks_as_slopes_do()
    {
        var back = Of(46);
        var (read, slope) = (back["read-slope-left", "behind-shoulder"], back["slope-left", "behind-shoulder"]);
        Assert.Equal(0, read.Turn);
        Assert.Equal(-1, slope.Turn, 0.01);
        Assert.Equal(slope.FlanksTurn, read.FlanksTurn, 1e-9);
    }

    [Fact]
    public void One_side_falls_in_without_moving_the_other()
    {
        var back = Of(46);
        Assert.All(back["half-area-left@100", "behind-shoulder"].LeftMuscle, g => Assert.True(g > 0));
        Assert.All(back["half-area-right@100", "behind-shoulder"].LeftMuscle, g => Assert.Equal(0, g, 1e-9));
    }

    [Fact]
    public void A_station_taken_further_back_reads_flatter_where_the_back_flattens_that_way() =>
        Assert.True(Of(46)["slope-left", "behind-shoulder"].Along < 0);

    [Fact]
    public void A_horse_of_which_only_slopes_are_known_has_no_contour() =>
        Assert.All(
            Series.SeriesFrom([Visit([new("slope-left", "shoulder", 46, "deg")])], WatchRules.Default, TimeZoneInfo.Utc),
            s => Assert.Null(s.Contour)
        );

    [Fact]
    public void A_pattern_stored_as_an_earlier_release_shipped_it_goes_by_the_contour_and_one_of_the_practices_own_does_not()
    {
        var opens = WatchRules.Default.Patterns.First(p => p.Name == "opens") with { Deformation = null };
        var own = opens with { Loadings = [.. opens.Loadings.Select(l => l with { Loading = l.Loading * 0.9 })] };
        Assert.Equal(Deformation.FlanksTurn, Used(opens).Deformation);
        Assert.Null(Used(own).Deformation);
    }

    private static ChangePattern Used(ChangePattern stored) =>
        Assert.Single(
            new Practice { Rules = WatchRules.Default with { Patterns = [stored] } }
                .WatchBy()
                .Patterns
        );

    private static ContourGains Width(Found back) => back["width@100", "behind-shoulder"];

    /// <summary>Flatter by four degrees from each station to the next.</summary>
    private static Found Of(double slope)
    {
        string[] stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
        var rows = stations
            .SelectMany(
                (station, i) =>
                    TracingAnalysis
                        .Analyse(Backs.Section(slope + 4 - 4 * i, slope + 4 - 4 * i))
                        .Measures.Select(m => new MeasureRow(m.Key, station, m.Value, m.Unit))
            )
            .Append(new("read-slope-left", "behind-shoulder", slope, "deg"))
            .ToList();
        return new(Series.SeriesFrom([Visit(rows)], WatchRules.Default, TimeZoneInfo.Utc));
    }

    private static VisitRecord Visit(IReadOnlyList<MeasureRow> rows) =>
        new()
        {
            Id = DeterministicId.From("visit"),
            TakenAt = new DateTimeOffset(2026, 3, 2, 10, 0, 0, TimeSpan.Zero),
            Method = "flexible-curve",
            Entries = [new EntryRecord(DeterministicId.From("entry"), 1, "cross-section", null, rows, [])],
        };

    private sealed class Found(IReadOnlyList<WatchedSeries> series)
    {
        public ContourGains this[string measure, string station] =>
            series.Single(s => s.Measure == measure && s.Station == station).Contour!;
    }
}
