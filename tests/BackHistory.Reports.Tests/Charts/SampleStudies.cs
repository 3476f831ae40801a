using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Invented studies, practices and gauges, except where a source is named.</summary>
static class SampleStudies
{
    /// <summary>
    /// Peak expiratory flow by two meters, first readings of 17 subjects; Bland &amp; Altman 1986, Lancet i:307–310. Bias and 1.96 sd
    /// limits as computed from them.
    /// </summary>
    public static BlandAltmanInput FlowMeters { get; } =
        new()
        {
            Finding = "The two meters agree only within about 75 l/min.",
            Subject = "Peak expiratory flow, two meters, 17 people (Bland & Altman 1986)",
            Unit = "l/min",
            Decimals = 1,
            Pairs =
            [
                new(494, 512),
                new(395, 430),
                new(516, 520),
                new(434, 428),
                new(476, 500),
                new(557, 600),
                new(413, 364),
                new(442, 380),
                new(650, 658),
                new(433, 445),
                new(417, 432),
                new(656, 626),
                new(267, 260),
                new(478, 477),
                new(178, 259),
                new(423, 350),
                new(427, 451),
            ],
            Bias = -2.117647,
            LowerLimit = -78.0973,
            UpperLimit = 73.8620,
        };

    public static OperatingCurveInput Deciders { get; } =
        new()
        {
            Finding = "Judging all measures together finds 97 in 100 changes at 0.04 false alarms a horse and year.",
            Subject = "Shoulder opens by twice the threshold in six months; found by the first visit after",
            Curves =
            [
                Curve("all measures together", 0.00124, new(0.04, 0.97)),
                Curve("against the smallest change that can be seen", 0.11, null),
                Curve("two visits against the threshold", 0.30, null),
            ],
            PromisedFalseAlarms = 0.05,
            PromisedDetection = 0.9,
        };

    static OperatingCurve Curve(string name, double slow, OperatingPoint? use) =>
        new(name, [.. Enumerable.Range(0, 41).Select(i => i * i * 0.0003125).Select(f => new OperatingPoint(f, f / (f + slow)))], use);

    public static RefitForecastInput Refits { get; } =
        new()
        {
            Finding = "Twice as many refits are coming in March as in January: plan two more days.",
            Subject = "All horses of the practice, 312",
            Months = [.. Enumerable.Range(0, 12).Select(i => Month(i))],
        };

    static RefitMonth Month(int i)
    {
        double[] refits = [14, 11, 17, 19, 12, 16, 11, 9, 13, 18, 17, 15];
        var forecast = i >= 6;
        return new(
            new DateOnly(2026, 6, 1).AddMonths(i),
            refits[i],
            refits[i] - (forecast ? 3 + (i - 6) * 0.6 : 0),
            refits[i] + (forecast ? 4 + (i - 6) : 0),
            forecast
        );
    }

    public static GaugeChartInput Gauge { get; } =
        new()
        {
            Finding = "Open the left by one mark and a half; leave the right.",
            Subject = "Workshop gauge, marks A to H",
            Unit = "°",
            Marks = [new("A", 34), new("B", 37), new("C", 39.5), new("D", 42), new("E", 44.5), new("F", 47.5), new("G", 51), new("H", 55)],
            Proposal = [new(SeriesSide.Left, 46.1, 4.53, "between E and F"), new(SeriesSide.Right, 42.0, 3, "D")],
        };
}
