namespace BackHistory.Application.Demo;

/// <summary>
/// One invented horse's life, as it truly was: growth, seasons, work, lay-offs, illness, age. Nobody in the program sees this; they see
/// tracings.
/// The sizes are assumptions within what is published (signs and seasons; no published millimetres).
/// </summary>
internal sealed class InventedLife
{
    private static readonly Dictionary<string, double> StationSlope = new(StringComparer.Ordinal)
    {
        ["shoulder"] = 7,
        ["behind-shoulder"] = 0,
        ["mid-back"] = -9,
        ["last-rib"] = -15,
    };

    private readonly double _slope;
    private readonly double _ridge;
    private readonly double _leftHabit;
    private readonly double _season;
    private readonly double _drop;
    private readonly double _kilograms;
    private readonly double[] _wander;
    private readonly DateOnly _start;

    public InventedLife(Chance chance, DateOnly start, DateOnly end, bool losesOneSide)
    {
        _start = start;
        Foaled = start.AddDays(-(int)(chance.Uniform(3.2, 21) * 365.25));
        _slope = chance.Normal(41, 3.5);
        _ridge = chance.Uniform(16, 30);
        _leftHabit = chance.Normal(0.3, 0.75);
        _season = chance.Uniform(0.1, 0.5);
        _drop = chance.Uniform(14, 34);
        _kilograms = chance.Normal(540, 55);
        LayOffs = Spans(chance, start, end, yearly: 0.22, 50, 150);
        OneSidedFrom = losesOneSide ? end.AddDays(-130) : null;
        _wander = Wander(chance, end.DayNumber - start.DayNumber + 1);
    }

    public DateOnly Foaled { get; }

    public IReadOnlyList<(DateOnly From, DateOnly Until)> LayOffs { get; }

    /// <summary>From when on the left side loses muscle.</summary>
    public DateOnly? OneSidedFrom { get; }

    public InventedSection Section(string station, DateOnly on)
    {
        var common = _slope + StationSlope[station] + Movement(on);
        var loss = OneSidedFrom is { } from && on > from ? 8 * (1 - Math.Exp(-(on.DayNumber - from.DayNumber) / 45.0)) : 0;
        var atrophy = Math.Max(0, Idleness(on)) * 5 + Math.Max(0, Age(on) - 17) * 0.6;
        return new InventedSection(common - _leftHabit + loss, common + _leftHabit, 2 + atrophy + loss, 2 + atrophy, _ridge);
    }

    public InventedTopline Topline(DateOnly on) =>
        new(_drop + Math.Max(0, Age(on) - 14) * 1.6 + 5 * Math.Max(0, Idleness(on)) - 3 * Summer(on), 470);

    public double Kilograms(DateOnly on) => _kilograms * (1 + 0.025 * Summer(on) - 0.03 * Idleness(on) - Math.Max(0, 6 - Age(on)) * 0.03);

    public double Condition(DateOnly on) => Math.Clamp(Math.Round((5.3 + 0.5 * Summer(on) - 0.8 * Idleness(on)) * 2) / 2, 2, 8);

    public double Muscle(DateOnly on) =>
        Math.Clamp(Math.Round((1.2 + 1.4 * Math.Max(0, Idleness(on)) + Math.Max(0, Age(on) - 16) * 0.12) * 2) / 2, 1, 4);

    /// <summary>Degrees by which both sides are steeper than they were at the start: a narrower horse.</summary>
    private double Movement(DateOnly on)
    {
        var growth = -0.6 * Math.Max(0, Math.Min(6.5, Age(on)) - Age(_start)) * (Age(_start) < 6.5 ? 1 : 0);
        return growth
            - _season * Summer(on)
            + 2.6 * Idleness(on)
            + _wander[Math.Clamp(on.DayNumber - _start.DayNumber, 0, _wander.Length - 1)];
    }

    /// <summary>0 in work, towards 1 through a lay-off, back again over the months after it.</summary>
    private double Idleness(DateOnly on)
    {
        var idle = 0.0;
        foreach (var (from, until) in LayOffs)
        {
            if (on <= from)
                continue;
            var during = 1 - Math.Exp(-(Math.Min(on.DayNumber, until.DayNumber) - from.DayNumber) / 70.0);
            idle = Math.Max(idle, on <= until ? during : during * Math.Exp(-(on.DayNumber - until.DayNumber) / 110.0));
        }

        return idle;
    }

    /// <summary>1 at the end of summer, −1 at the end of winter.</summary>
    private static double Summer(DateOnly on) => Math.Cos(2 * Math.PI * (on.DayOfYear - 240) / 365.25);

    private double Age(DateOnly on) => (on.DayNumber - Foaled.DayNumber) / 365.25;

    /// <summary>Training and feeding as a slow wandering that is drawn back to where it began.</summary>
    private static double[] Wander(Chance chance, int days)
    {
        var path = new double[days];
        for (var i = 1; i < days; i++)
            path[i] = path[i - 1] * (1 - 1 / 300.0) + chance.Normal(0, 0.055);
        return path;
    }

    private static List<(DateOnly, DateOnly)> Spans(Chance chance, DateOnly start, DateOnly end, double yearly, int least, int most)
    {
        var spans = new List<(DateOnly, DateOnly)>();
        for (var day = start.AddDays(chance.Whole(20, 300)); day < end.AddDays(-30); day = day.AddDays(chance.Whole(250, 500)))
        {
            if (!chance.Happens(yearly))
                continue;
            var until = day.AddDays(chance.Whole(least, most));
            spans.Add((day, until));
            day = until;
        }

        return spans;
    }
}
