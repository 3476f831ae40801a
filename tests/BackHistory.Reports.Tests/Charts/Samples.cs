using BackHistory.Reports.Charts;
using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Invented horses, the same at every run.</summary>
static class Samples
{
    public static readonly DateOnly Set = new(2026, 6, 12);
    public static readonly DateOnly Today = new(2026, 11, 25);

    public static TrendChartInput OneSide { get; } =
        new()
        {
            Finding = "The left shoulder has opened by 5.1° since the saddle was set in June: it needs setting again.",
            Subject = "Juniper: slope of the left shoulder, behind-shoulder",
            Unit = "°",
            Series = [Series(SeriesSide.Left, 42.2, 0.031, seed: 1)],
            SaddleWork =
            [
                new(Set, "saddle set", IsBaseline: true),
                new(new(2025, 12, 3), "saddle re-flocked"),
                new(new(2025, 9, 20), "new saddle"),
            ],
            Spans =
            [
                new(new(2026, 1, 10), new(2026, 3, 20), SpanKind.LayOff, "lay-off"),
                new(new(2026, 7, 1), new(2026, 7, 18), SpanKind.Illness, "cough"),
                new(new(2026, 7, 25), null, SpanKind.Work, "five days a week"),
            ],
            Today = Today,
        };

    public static TrendChartInput BothSides { get; } =
        OneSide with
        {
            Finding = "Left and right part company since August: ask the vet before the saddle is set again.",
            Subject = "Juniper: slope of the shoulders, behind-shoulder",
            Series = [Series(SeriesSide.Left, 42.2, 0.028, seed: 1), Series(SeriesSide.Right, 44.4, -0.012, seed: 2)],
        };

    static TrendSeries Series(SeriesSide side, double level, double perDay, int seed)
    {
        var random = new Random(seed);
        var visits = new List<VisitValue>();
        for (var day = new DateOnly(2025, 9, 20); day <= Today; day = day.AddDays(38 + random.Next(45)))
            visits.Add(new(day, Level(day) + (random.NextDouble() - 0.5) * 3, 0.9 + random.NextDouble() * 0.7));
        var trend = Enumerable
            .Range(0, 60)
            .Select(i => new DateOnly(2025, 9, 20).AddDays(i * 9))
            .TakeWhile(d => d <= new DateOnly(2027, 2, 20))
            .Select(d => new TrendPoint(d, Level(d), Spread(d)))
            .ToList();
        return new()
        {
            Side = side,
            Visits = visits,
            Trend = trend,
            Baseline = new(Set, Level(Set), 4),
        };

        double Level(DateOnly day) => level + Math.Max(0, day.DayNumber - Set.DayNumber) * perDay + 0.8 * Math.Sin(day.DayNumber / 58.0);
        double Spread(DateOnly day) => 0.75 + 0.25 * Math.Cos(day.DayNumber / 20.0) + Math.Max(0, day.DayNumber - Today.DayNumber) * 0.02;
    }

    public static ConditionChartInput Condition { get; } =
        new()
        {
            Finding = "The right side of the back has lost muscle since July while the left held: please have it looked at.",
            Subject = "Juniper, 14 years",
            Panels =
            [
                new()
                {
                    Name = "Half areas to 100 mm",
                    Unit = "cm²",
                    Decimals = 1,
                    Series = [Measure(SeriesSide.Left, 92, 0.004, 2.2, 11), Measure(SeriesSide.Right, 90, -0.06, 2.2, 12)],
                },
                new()
                {
                    Name = "Topline drop",
                    Unit = "mm",
                    Decimals = 0,
                    Series = [Measure(SeriesSide.Whole, 34, 0.06, 4, 13)],
                },
                new()
                {
                    Name = "Weight",
                    Unit = "kg",
                    Decimals = 0,
                    Series = [Measure(SeriesSide.Whole, 560, -0.12, 6, 14)],
                },
                new()
                {
                    Name = "Body condition, 1 to 9",
                    Unit = "",
                    Decimals = 1,
                    Series = [Measure(SeriesSide.Whole, 5.5, -0.003, 0.25, 15)],
                },
            ],
            SaddleWork = OneSide.SaddleWork,
            Spans = OneSide.Spans,
            Parting = new(new(2026, 6, 28), new(2026, 7, 20), new(2026, 8, 24), "left and right part"),
            Today = Today,
        };

    static TrendSeries Measure(SeriesSide side, double level, double perDay, double sd, int seed)
    {
        var random = new Random(seed);
        double Level(DateOnly day) => level + Math.Max(0, day.DayNumber - new DateOnly(2026, 7, 10).DayNumber) * perDay;
        var days = Enumerable.Range(0, 9).Select(i => new DateOnly(2025, 9, 20).AddDays(i * 52)).ToList();
        return new()
        {
            Side = side,
            Visits = [.. days.Select(d => new VisitValue(d, Level(d) + (random.NextDouble() - 0.5) * 2 * sd, sd))],
            Trend =
            [
                .. Enumerable
                    .Range(0, 70)
                    .Select(i => new DateOnly(2025, 9, 20).AddDays(i * 6))
                    .Select(d => new TrendPoint(d, Level(d), sd * 0.6)),
            ],
        };
    }
}
