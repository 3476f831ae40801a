using BackHistory.Trends.Lines;
using BackHistory.Trends.Repeats;
using BackHistory.Trends.Rules;

namespace BackHistory.Trends.Tests;

public class Published_repeatability
{
    static double[][] Table(string file) => [.. TestData.Rows(file).Select(r => r.Skip(1).Select(TestData.Number).ToArray())];

    [Fact, Trait("source", "Bland & Altman 1996, BMJ 313:744 (children 17-20 from memory, high)")]
    public void Peak_flow_of_twenty_children_has_the_published_within_subject_sd()
    {
        var result = Repeatability.RepeatabilityOf(Table("bland_altman_1996_pefr_children.csv"));
        Assert.Equal(60, result.Df);
        Assert.Equal(21.459749144231235, result.WithinSd!.Value, 1e-6);
        Assert.Equal(59.48338983839662, result.MinimalDetectable!.Value, 1e-5);
        Assert.Equal(21.5, result.WithinSd.Value, 0.05);
    }

    [Fact, Trait("source", "Shrout & Fleiss 1979, Psychol. Bull. 86:420 (from memory, high; R psych)")]
    public void Six_targets_and_four_judges_have_the_published_intraclass_correlations()
    {
        var result = Repeatability.RepeatabilityOf(Table("shrout_fleiss_1979.csv"));
        Assert.Equal(0.16574176840547544, result.Icc11!.Value, 1e-8);
        Assert.Equal(0.2897637795275592, result.Icc21!.Value, 1e-8);
        Assert.Equal(0.7148407148407154, result.Icc31!.Value, 1e-8);
    }

    [Fact, Trait("source", "Bland & Altman 1986, Lancet i:307")]
    public void Two_peak_flow_meters_agree_within_the_published_limits()
    {
        var rows = Table("bland_altman_1986_pefr.csv");
        var agreement = BlandAltman.AgreementOf([.. rows.Select(r => (r[0], r[2]))])!;
        Assert.Equal(-2.1176470588235294, agreement.Bias, 1e-6);
        Assert.Equal(38.76512987360738, agreement.Sd, 1e-6);
        Assert.Equal(-78.0973, agreement.Low, 1e-4);
        Assert.Equal(73.8620, agreement.High, 1e-4);
        Assert.Equal(17, agreement.Points.Count);
        Assert.Equal(15.3067, Repeatability.RepeatabilityOf([.. rows.Select(r => new[] { r[0], r[1] })]).WithinSd!.Value, 1e-4);
        Assert.Equal(19.9108, Repeatability.RepeatabilityOf([.. rows.Select(r => new[] { r[2], r[3] })]).WithinSd!.Value, 1e-4);
    }

    [Fact, Trait("source", "Pinheiro & Bates 2000, Rail")]
    public void Six_rails_have_the_published_variance_within_and_between()
    {
        var rails = TestData.Rows("rail.csv").GroupBy(r => r[0], StringComparer.Ordinal).ToList();
        Assert.Equal(
            16.16667,
            Math.Pow(
                Repeatability.RepeatabilityOf([.. rails.Select(g => g.Select(r => TestData.Number(r[1])).ToArray())]).WithinSd!.Value,
                2
            ),
            1e-5
        );
        // The rails stand for visits a day apart of one horse: what differs between them beyond the noise of three readings is s_visit.
        var study = NoiseStudy.From([
            .. rails.Select((g, i) => new RepeatedVisit("rail", i, "one", [.. g.Select(r => TestData.Number(r[1]))])),
        ]);
        Assert.Equal(4.020779, study.Trace!.Sd, 1e-6);
        Assert.Equal(24.80547, study.Visit!.Sd, 1e-5);
        Assert.Equal((12.0, 5.0), (study.Trace.Df, study.Visit.Df));
    }

    [Fact, Trait("source", "Bland & Altman 1996; Weir 2005: MDC = 1.96 √2 SEM (identity)")]
    public void The_minimal_detectable_change_is_2_77_times_the_within_subject_sd()
    {
        var result = Repeatability.RepeatabilityOf([
            [1.0, 2],
            [5, 7.5],
            [3, 3],
        ]);
        Assert.Equal(1.96 * Math.Sqrt(2) * result.WithinSd!.Value, result.MinimalDetectable!.Value, 1e-12);
    }

    [Fact]
    public void A_subject_measured_once_adds_nothing_and_alone_knows_nothing()
    {
        Assert.Equal(
            Repeatability
                .RepeatabilityOf([
                    [1.0, 2],
                    [5, 7],
                ])
                .WithinSd,
            Repeatability
                .RepeatabilityOf([
                    [1.0, 2],
                    [5, 7],
                    [100],
                ])
                .WithinSd
        );
        var nothing = Repeatability.RepeatabilityOf([
            [1.0],
            [2],
            [],
        ]);
        Assert.Null(nothing.WithinSd);
        Assert.Equal(0, nothing.Df);
        Assert.Null(nothing.MinimalDetectable);
    }

    [Fact]
    public void Equal_repeats_have_no_spread_and_no_correlation_is_made_up()
    {
        var result = Repeatability.RepeatabilityOf([
            [0.3, 0.3, 0.3],
            [0.3, 0.3, 0.3],
        ]);
        Assert.Equal(0, result.WithinSd);
        Assert.Null(result.Icc11);
        Assert.Null(result.Icc21);
        Assert.Null(result.Icc31);
    }

    [Fact]
    public void A_correlation_below_zero_is_not_clipped() =>
        Assert.True(
            Repeatability
                .RepeatabilityOf([
                    [1.0, 9],
                    [9, 1],
                    [2, 8],
                ])
                .Icc11 < 0
        );

    [Fact]
    public void A_rater_who_is_off_by_a_million_loses_no_digit_of_consistency()
    {
        double[][] table =
        [
            [9, 2, 5, 8],
            [6, 1, 3, 2],
            [8, 4, 6, 8],
            [7, 1, 2, 6],
            [10, 5, 6, 9],
            [6, 2, 4, 7],
        ];
        var biased = table.Select(r => r.Select((v, j) => j == 1 ? v + 1e6 : v).ToArray()).ToArray();
        Assert.Equal(Repeatability.RepeatabilityOf(table).Icc31!.Value, Repeatability.RepeatabilityOf(biased).Icc31!.Value, 1e-7);
    }
}
