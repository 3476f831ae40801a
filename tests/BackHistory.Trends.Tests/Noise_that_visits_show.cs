using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.Trends.Tests;

/// <summary>
/// What a horse's own visits say of how much each kind of measure errs by alone. The visits are drawn from layers of known size: a lean of
/// the visit and of each station, stance of the whole, of each station and of each flank, and each measure's own.
/// </summary>
public class Noise_that_visits_show
{
    const int Longest = 160;
    const double Turn = 0.8,
        WidthTurn = 4.5,
        AreaTurn = 1.6;

    /// <param name="own">On the standard deviation that the rules leave each measure for itself.</param>
    /// <param name="step">Limits by which all of the left side moves half-way.</param>
    static double[] Factors(int visits, double own, double step = 0, bool hands = true)
    {
        var (series, thresholds) = Drawn(visits, own, step, hands);
        var table = VisitTable.From(series, thresholds, double.MaxValue, WatchRules.Default);
        var noise = new VisitNoise(table, series, thresholds, WatchRules.Default);
        return OwnNoise.Factors(table, noise, [.. series.Select(s => s.Measure)]);
    }

    static (List<WatchedSeries> Series, double[] Thresholds) Drawn(int visits, double own, double step, bool hands)
    {
        var rules = WatchRules.Default;
        var random = new Random(11);
        var empty = Keys().Select(k => Watched(k.Measure, k.Station, [new(0, Level(k.Measure), 0.1, "ann")])).ToList();
        double[] thresholds = [.. empty.Select(s => s.Threshold.At(Level(s.Measure)))];
        var values = empty.ConvertAll(_ => new List<Observation>());
        for (var v = 0; v < visits; v++)
        {
            var (lean, whole) = (Math.Sqrt(0.24 / 0.76 * 3.25) * Normal(), Math.Sqrt(0.1) * Normal());
            foreach (var station in LeaningBacks.Stations)
            {
                var (turned, stance) = (lean + 0.5 * Normal(), whole + Math.Sqrt(0.3) * Normal());
                var (left, right) = (Math.Sqrt(0.2) * Normal(), Math.Sqrt(0.2) * Normal());
                for (var i = 0; i < empty.Count; i++)
                {
                    var s = empty[i];
                    if (s.Station != station)
                        continue;
                    var side =
                        s.Measure.Contains("left", StringComparison.Ordinal) ? -1
                        : s.Measure.Contains("right", StringComparison.Ordinal) ? 1
                        : 0;
                    var (trace, layers) = rules.NoiseOf(s.Measure)!.At(Level(s.Measure));
                    var shared = s.Contour!.FlanksTurn * FlankSd * stance + s.Contour.Turn * turned;
                    shared += (side < 0 ? s.Contour.LeftFlank * left : s.Contour.RightFlank * right) * FlankSd;
                    var gain = s.Contour.FlanksTurn * FlankSd;
                    var flank = side == 0 ? 0 : gain * Math.Sqrt(0.2);
                    var all = trace * trace + layers.VisitSd * layers.VisitSd;
                    var ownSd = Math.Sqrt(Math.Max(all / 3, all - 0.4 * gain * gain - flank * flank));
                    var moved = side < 0 && v >= visits / 2 ? step * thresholds[i] : 0;
                    values[i]
                        .Add(
                            new(
                                19000.0 + 60 * v,
                                Level(s.Measure) + shared + own * ownSd * Normal() + moved,
                                trace,
                                hands ? "ann"
                                    : v % 2 == 0 ? "ann"
                                    : "bob"
                            )
                        );
                }
            }
        }
        return ([.. empty.Select((s, i) => s with { Observations = values[i] })], thresholds);

        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    /// <summary>Degrees that the rules' noise is worth at a station: of widths, slopes and areas by inverse variance.</summary>
    static double FlankSd
    {
        get
        {
            var sum = 0.0;
            foreach (var (measure, _) in Keys().Where(k => k.Station == "shoulder"))
            {
                var (_, layers) = WatchRules.Default.NoiseOf(measure)!.At(Level(measure));
                sum += Math.Pow(Gains(measure).FlanksTurn / layers.VisitSd, 2);
            }
            return Math.Sqrt(5 / sum);
        }
    }

    static IEnumerable<(string Measure, string Station)> Keys() =>
        LeaningBacks.Stations.SelectMany(s =>
            new[] { "slope-left", "slope-right", "width@100", "half-area-left@100", "half-area-right@100" }.Select(m => (m, s))
        );

    static double Level(string measure) =>
        measure[0] switch
        {
            's' => 45,
            'w' => 200,
            _ => 60,
        };

    /// <summary>Of a degree, in the measure's unit; the left flank alone moves nothing of the right.</summary>
    static ContourGains Gains(string measure) =>
        measure switch
        {
            "slope-left" => new(-1, -Turn, [0, 0, 0, -Turn], [0, 0, 0, 0], 0),
            "slope-right" => new(1, -Turn, [0, 0, 0, 0], [0, 0, 0, -Turn], 0),
            "width@100" => new(0, WidthTurn, [0, 0, 0, WidthTurn / 2], [0, 0, 0, WidthTurn / 2], 0),
            "half-area-left@100" => new(AreaTurn, AreaTurn, [0, 0, 0, AreaTurn], [0, 0, 0, 0], 0),
            _ => new(-AreaTurn, AreaTurn, [0, 0, 0, 0], [0, 0, 0, AreaTurn], 0),
        };

    static WatchedSeries Watched(string measure, string station, IReadOnlyList<Observation> seen) =>
        new(
            measure,
            station,
            measure[0] == 's' ? "deg"
                : measure[0] == 'w' ? "mm"
                : "cm2",
            seen,
            WatchRules.Default.NoiseOf(measure)!.At(Level(measure)).Layers,
            WatchRules.Default.ThresholdOf(measure)!
        )
        {
            Contour = Gains(measure),
        };

    /// <summary>With visits enough what was drawn is found again, of widths, slopes and areas; where it is little, rather too much than
    /// too little.</summary>
    [Theory]
    [InlineData(0.5, 1.4)]
    [InlineData(1, 1.15)]
    [InlineData(1.6, 1.15)]
    public void What_each_measure_errs_by_alone_is_found_again(double own, double most) =>
        Assert.All(Factors(Longest, own), f => Assert.InRange(f / (own * own), 0.85, most));

    /// <summary>Two visits say little against the rules.</summary>
    [Fact]
    public void One_pair_of_visits_says_little() => Assert.All(Factors(2, 0.3), f => Assert.InRange(f, 0.5, 1));

    /// <summary>Two pairs of hands in turn: what they bring is no noise of one measure, and the rules' figure stays.</summary>
    [Fact]
    public void Visits_by_other_hands_say_nothing() => Assert.All(Factors(12, 0.3, hands: false), f => Assert.Equal(1, f));

    /// <summary>A side that moved by five limits half-way makes the judge more careful and not bolder.</summary>
    [Fact]
    public void A_change_of_the_back_is_never_told_as_less_noise()
    {
        var (steady, changed) = (Factors(12, 0.5), Factors(12, 0.5, step: -5));
        Assert.All(steady.Zip(changed), f => Assert.True(f.Second >= f.First - 1e-9, $"{f.First} {f.Second}"));
    }
}
