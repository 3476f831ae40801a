using BackHistory.Trends.Robust;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

public class Published_regressions_and_filters
{
    [Fact, Trait("source", "NIST StRD Norris")]
    public void A_trend_without_drift_is_the_certified_regression_line()
    {
        var line = TrendFit.Fit(TestData.Series("nist_norris.csv", time: 1, value: 0), NoiseLayers.None, q: 0);
        const double residualSd = 0.884796396144373;
        Close(-0.262323073774029, line.Level(0)!.Value, 1e-9);
        Close(0.232818234301152, line.Level(0)!.Sd * residualSd, 1e-9);
        Close(1.00211681802045, line.Slope(500)!.Value, 1e-10);
        Close(0.429796848199937e-3, line.Slope(500)!.Sd * residualSd, 1e-10);
    }

    [
        Fact,
        Trait(
            "source",
            "Wahba 1978: equals the cubic smoothing spline with lambda = R/q; reference values from scipy make_smoothing_spline and GLS "
                + "(CALC)"
        )
    ]
    public void The_smoothed_trend_of_irregular_dates_is_the_cubic_smoothing_spline()
    {
        var trend = TrendFit.Fit(TestData.Series("irregular_llt_reference.csv"), NoiseLayers.None, q: 0.05);
        foreach (var row in TestData.Rows("irregular_llt_reference.csv"))
        {
            var day = TestData.Number(row[0]);
            Close(TestData.Number(row[2]), trend.Level(day)!.Value, 1e-9);
            Close(TestData.Number(row[3]), trend.Slope(day)!.Value, 1e-9);
        }
    }

    /// <summary>Years as days: the local level model of the book, whose level moves by a random walk.</summary>
    static VisitData Nile(double observationVariance) =>
        VisitData.From(TestData.Series("nile.csv", Math.Sqrt(observationVariance)), NoiseLayers.None);

    static Posterior LocalLevel(double observationVariance, double levelVariance, params double[] freeze) =>
        DiffuseFilter.Run(Nile(observationVariance), new(0, levelVariance, WithSlope: false), freeze);

    [Fact, Trait("source", "Durbin & Koopman 2012, section 2.2 (Nile); R StructTS")]
    public void The_diffuse_likelihood_of_the_Nile_peaks_at_the_published_variances()
    {
        Close(-632.545625, LocalLevel(15098.517, 1469.177).LogLikelihood, 1e-8);
        var (best, at) = (double.NegativeInfinity, (Eps: 0.0, Eta: 0.0));
        for (var eps = 14000.0; eps <= 16200; eps += 20)
        for (var eta = 1300.0; eta <= 1650; eta += 5)
            if (LocalLevel(eps, eta).LogLikelihood is var l && l > best)
                (best, at) = (l, (eps, eta));
        Assert.InRange(at.Eps, 15099 - 25, 15099 + 25);
        Assert.InRange(at.Eta, 1469.1 - 10, 1469.1 + 10);
    }

    [Fact, Trait("source", "Durbin & Koopman 2012, section 2.2 (Nile); filter computed in R (CALC)")]
    public void The_filtered_Nile_settles_to_the_published_steady_state()
    {
        var last = LocalLevel(15099, 1469.1, 1971).EstimateOf([0, 0, 0, 1, 0], 1);
        Close(798.370292608364, last.Value, 1e-10);
        Close(5501.25794, last.Sd * last.Sd, 1e-8);
    }

    static (VisitData Data, Posterior Fit) Orthodont(double between, double within)
    {
        var girls = TestData
            .Rows("orthodont.csv")
            .Where(r => r[3] == "Female")
            .Select(r => new Observation(TestData.Number(r[1]), TestData.Number(r[0]), within, r[2]))
            .ToArray();
        var data = VisitData.From(girls, new(0, between));
        return (data, DiffuseFilter.Run(data, new(0), [0.0]));
    }

    [Fact, Trait("source", "Pinheiro & Bates 2000, Orthodont, females, random intercept (R nlme)")]
    public void Hands_are_a_random_intercept_as_in_the_growth_study_of_children()
    {
        var (data, fit) = Orthodont(2.068470, 0.780033);
        Close(17.372727, fit.EstimateOf([0, 0, 0, 1, 0], 1).Value, 1e-6);
        Close(0.479545, fit.EstimateOf([0, 0, 0, 0, 1], 0).Value, 1e-5);
        // Hands are numbered by their first day, then by name; every girl is measured at age 8.
        var order = TestData
            .Rows("orthodont.csv")
            .Where(r => r[3] == "Female")
            .Select(r => r[2])
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal)
            .ToList();
        Assert.Equal(order.Count, data.People);
        var published = TestData
            .Rows("orthodont_female_ri_blup.csv")
            .ToDictionary(r => r[0], r => TestData.Number(r[1]) - 17.372727, StringComparer.Ordinal);
        for (var i = 0; i < order.Count; i++)
            Assert.Equal(published[order[i]], fit.Regressor(fit.PeopleColumn + i).Value, 1e-4);
    }

    [Fact, Trait("source", "Pinheiro & Bates 2000, Orthodont, females, random intercept (R nlme)")]
    public void The_restricted_likelihood_peaks_at_the_published_spread_of_children()
    {
        var best = Orthodont(2.068470, 0.780033).Fit.LogLikelihood;
        foreach (var (between, within) in new[] { (2.0, 0.780033), (2.14, 0.780033), (2.068470, 0.76), (2.068470, 0.80) })
            Assert.True(Orthodont(between, within).Fit.LogLikelihood < best);
        double Slope(Func<double, double> f) => (f(1e-4) - f(-1e-4)) / 2e-4;
        Assert.Equal(0, Slope(e => Orthodont(2.068470 * (1 + e), 0.780033).Fit.LogLikelihood), 1e-4);
        Assert.Equal(0, Slope(e => Orthodont(2.068470, 0.780033 * (1 + e)).Fit.LogLikelihood), 1e-4);
    }

    [Fact, Trait("source", "NIST/SEMATECH e-Handbook 6.3.2.3")]
    public void The_cumulative_sums_of_the_handbook_signal_first_at_group_fourteen()
    {
        var rows = TestData.Rows("nist_cusum_6323.csv");
        var sums = Cusum.Sums([.. rows.Select(r => TestData.Number(r[1]))], 325, 0.3175);
        for (var i = 0; i < rows.Length; i++)
        {
            Assert.Equal(TestData.Number(rows[i][3]), sums[i].High, 0.0051);
            Assert.Equal(TestData.Number(rows[i][4]), sums[i].Low, 0.0051);
        }
        Assert.Equal(14, 1 + sums.ToList().FindIndex(s => s.High > 4.1959 || s.Low > 4.1959));
    }

    static void Close(double expected, double actual, double relative) =>
        Assert.True(Math.Abs(actual - expected) <= relative * Math.Abs(expected), $"expected {expected:R}, got {actual:R}");
}
