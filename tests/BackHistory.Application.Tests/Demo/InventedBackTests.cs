using BackHistory.Application.Demo;
using BackHistory.Shape.Analysis;

namespace BackHistory.Application.Tests.Demo;

/// <summary>The invented horses beside what is published of real ones. No published study gives millimetres here; what is known are
/// shares, signs and scales.</summary>
public sealed class InventedBackTests
{
    private static readonly DateOnly Start = new(2024, 1, 1),
        End = new(2026, 12, 31);
    private static readonly InventedHand Exact = new(0, 0, 0.3);

    private static readonly List<InventedLife> Lives =
    [
        .. Enumerable.Range(0, 400).Select(i => new InventedLife(new Chance(20261 + i), Start, End, losesOneSide: false)),
    ];

    [Fact]
    [Trait("source", "Merkies et al. 2020 (almost 60 % of 490 horses larger on the left); Tabor, Marlin & Williams 2022 (70 % of scans)")]
    public void Between_half_and_three_quarters_of_the_horses_are_larger_on_the_left_at_the_withers()
    {
        var larger = Lives.Average(l =>
            Measured(l, "behind-shoulder", new DateOnly(2025, 6, 1)) is var m && m["half-area-left@100"] > m["half-area-right@100"]
                ? 1.0
                : 0
        );
        Assert.InRange(larger, 0.55, 0.75);
    }

    [Fact]
    [Trait("source", "Greve & Dyson 2015 (sign: back dimensions larger in summer than in winter; from memory)")]
    public void Backs_are_wider_at_the_end_of_summer_than_at_the_end_of_winter()
    {
        var grown = Lives.Where(l => l.Foaled < Start.AddYears(-7) && l.LayOffs.Count == 0).ToList();
        var (summer, winter) = (Mean(new DateOnly(2025, 8, 28)), Mean(new DateOnly(2025, 2, 28)));
        Assert.True(summer > winter, $"{summer} mm in August, {winter} mm in February");

        double Mean(DateOnly on) => grown.Average(l => Measured(l, "behind-shoulder", on)["width@100"]);
    }

    [Fact]
    [Trait("source", "Greve & Dyson 2014 (ratio of widths 3 and 15 cm below the midline; sign: lower at T8 with age)")]
    public void The_width_ratio_behind_the_shoulder_is_a_ratio_and_does_not_rise_with_age()
    {
        var ratios = Lives
            .Select(l =>
                (
                    Age: 2025 - l.Foaled.Year,
                    Ratio: Measured(l, "behind-shoulder", new DateOnly(2025, 6, 1)).GetValueOrDefault("width-ratio")
                )
            )
            .Where(r => r.Ratio > 0)
            .ToList();
        Assert.True(ratios.Count > 300);
        Assert.All(ratios, r => Assert.InRange(r.Ratio, 0.1, 0.9));
        var (age, ratio) = (ratios.Average(r => r.Age), ratios.Average(r => r.Ratio));
        var slope = ratios.Sum(r => (r.Age - age) * (r.Ratio - ratio)) / ratios.Sum(r => (r.Age - age) * (r.Age - age));
        Assert.True(slope < 0.002, $"the ratio changes by {slope} a year");
    }

    [Fact]
    [Trait("source", "Henneke et al. 1983 (condition 1 to 9); Herbst et al. 2022 (muscle 1 to 4; back score rises with age)")]
    public void Condition_and_muscle_stay_on_their_scales()
    {
        foreach (var life in Lives)
            for (var day = Start; day <= End; day = day.AddDays(60))
            {
                Assert.InRange(life.Condition(day), 1, 9);
                Assert.InRange(life.Muscle(day), 1, 4);
                Assert.InRange(life.Kilograms(day), 300, 800);
            }
        var (old, young) = (Lives.Where(l => l.Foaled.Year < 2006), Lives.Where(l => l.Foaled.Year > 2014));
        Assert.True(old.Average(l => l.Muscle(End)) > young.Average(l => l.Muscle(End)));
    }

    [Fact]
    [Trait("source", "Licka & Peham 1998 (dipping moves the topline by at most 2.4 % of the withers height, 38 mm for 160 cm)")]
    public void Within_a_year_a_grown_horse_moves_its_topline_by_less_than_posture_alone_can()
    {
        foreach (var life in Lives.Where(l => l.Foaled < Start.AddYears(-7)))
        {
            var drops = Enumerable.Range(0, 13).Select(m => life.Topline(new DateOnly(2025, 1, 1).AddMonths(m)).Drop).ToList();
            Assert.True(drops.Max() - drops.Min() < 38);
        }
    }

    private static Dictionary<string, double> Measured(InventedLife life, string station, DateOnly on)
    {
        var answer = TracingAnalysis.Analyse(InventedBack.Section(life.Section(station, on), station, Exact, new Chance(1)));
        Assert.Null(answer.Refused);
        return answer.Measures.Where(m => m.Value is not null).ToDictionary(m => m.Key, m => m.Value!.Value, StringComparer.Ordinal);
    }
}
