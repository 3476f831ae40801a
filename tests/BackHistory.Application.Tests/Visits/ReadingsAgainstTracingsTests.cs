using BackHistory.Application.Visits;
using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Shape.Quality;
using BackHistory.Trends.Rules;

namespace BackHistory.Application.Tests.Visits;

/// <summary>Readings beside the tracings of the same place: twice their joint standard deviation apart is told (method.md, section 3). By
/// the rules that a practice starts with a reading and a tracing scatter by 1° each, the topline's chord by 0.7°.</summary>
public sealed class ReadingsAgainstTracingsTests
{
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back"];

    [Fact]
    public void A_reading_is_compared_with_the_tracings_of_its_own_station_and_side_and_with_no_other()
    {
        var visit = new VisitRecord
        {
            Method = "flexible-curve",
            Entries =
            [
                Traced("shoulder", ("slope-left", 31), ("slope-right", 47)),
                Traced("behind-shoulder", ("slope-left", 40), ("slope-right", 40)),
                Traced("behind-shoulder", ("slope-left", 42), ("slope-right", 42)),
                Read(Readings.SlopeLeft, "shoulder", 47),
                Read(Readings.SlopeRight, "shoulder", 47),
                Read(Readings.SlopeLeft, "behind-shoulder", 43.5),
                Read(Readings.SlopeLeft, "mid-back", 80),
            ],
        };

        var (entry, apart) = Assert.Single(ReadingsAgainstTracings.OfVisit(visit, Stations, WatchRules.Default));

        Assert.Equal(visit.Entries[3].EntryId, entry);
        Assert.Equal((47, 31), (apart.Reading, apart.Tracing));
        Assert.Empty(ReadingsAgainstTracings.OfVisit(visit with { Withdrawn = true }, Stations, WatchRules.Default));
    }

    [Fact]
    public void The_topline_is_read_from_a_station_to_the_next_of_the_protocol()
    {
        Measure[] topline =
        [
            new("topline-slope@shoulder-mid-back", 9, "deg", 0, null),
            new("topline-slope@shoulder-behind-shoulder", 3, "deg", 0, null),
        ];

        Assert.Equal(3, Of("shoulder", 8)!.Tracing);
        Assert.Null(Of("shoulder", 4));
        Assert.Null(Of("mid-back", 8));
        Assert.Null(Of("nowhere", 8));

        Disagreement? Of(string station, double value) =>
            ReadingsAgainstTracings.OfReading(
                Readings.ToplineSlope,
                station,
                value,
                topline,
                Stations,
                "flexible-curve",
                Guid.Empty,
                WatchRules.Default
            );
    }

    private static EntryRecord Traced(string station, params (string Key, double Value)[] measures) =>
        new(
            Guid.NewGuid(),
            1,
            "cross-section",
            station,
            [.. measures.Select(m => new MeasureRow(m.Key, station, m.Value, "deg", 0.1))],
            []
        );

    private static EntryRecord Read(string measure, string station, double value) =>
        new(Guid.NewGuid(), 1, "reading", station, [new MeasureRow(measure, station, value, "deg")], []);
}
