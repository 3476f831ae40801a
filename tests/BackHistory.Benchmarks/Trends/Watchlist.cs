using BackHistory.Trends.Rules;

namespace BackHistory.Benchmarks.Trends;

/// <summary>The watched measures of the simulation: all that have a default threshold, at all stations.</summary>
static class Watchlist
{
    internal const int SlopeLeft = 0,
        SlopeRight = 1,
        OpeningAngle = 2,
        Width = 3,
        AreaLeft = 4,
        AreaRight = 5,
        SkewSlope = 6,
        SkewShape = 7,
        PerStation = 8;
    internal const int Drop = 32,
        Weight = 33,
        Condition = 34,
        Count = 35;

    static readonly string[] Names =
    [
        "slope-left",
        "slope-right",
        "opening",
        "width@100",
        "half-area-left@100",
        "half-area-right@100",
        "skew-slope",
        "skew-shape",
    ];
    static readonly string[] Units = ["deg", "deg", "deg", "mm", "cm2", "cm2", "deg", "mm"];

    internal static readonly (string Measure, string? Station, string Unit)[] Keys =
    [
        .. SimulatedHorse.Stations.SelectMany(s => Names.Select((n, i) => (n, (string?)s, Units[i]))),
        ("topline-drop", null, "mm"),
        ("weight", null, "kg"),
        ("condition", null, "1"),
    ];

    /// <summary>The sign with which an opening back moves a measure; 0 = not at all.</summary>
    internal static int Sign(int series) =>
        series >= Drop
            ? 0
            : (series % PerStation) switch
            {
                SlopeLeft or SlopeRight => -1,
                OpeningAngle or Width or AreaLeft or AreaRight => 1,
                _ => 0,
            };

    internal static Threshold ThresholdOf(int series) => WatchRules.Default.ThresholdOf(Keys[series].Measure)!;

    internal static NoiseRule NoiseOf(int series) => WatchRules.Default.NoiseOf(Keys[series].Measure)!;
}
