using BackHistory.Shape.Smoothing;
using BackHistory.Shape.Tests.Reference;
using MathNet.Numerics.Interpolation;
using MathNet.Numerics.LinearAlgebra;

namespace BackHistory.Shape.Tests;

/// <summary>The splines under the smoothing, against other people's.</summary>
public sealed class SplineTests
{
    private static readonly double[] X = [0, 1, 2, 3, 4, 5, 6],
        Y = [0, 0.5, 2, 1.5, 1, 0.25, 0];

    [Fact]
    [Trait("source", "scipy 1.10.1 CubicSpline not-a-knot, checks.md 2.15, CALC")]
    public void Exact_points_are_interpolated_with_not_a_knot_ends()
    {
        var curve = new PlaneSpline(X, X, Y, NotAKnot.SecondDerivatives(X, X), NotAKnot.SecondDerivatives(X, Y));
        foreach (var row in TestData.Csv("spline_reference.csv"))
        {
            Assert.Equal(row[2], curve.At(row[0]).Y, 1e-12);
            Assert.Equal(row[0], curve.At(row[0]).X, 1e-12);
        }
    }

    [Fact]
    [Trait("source", "not-a-knot reproduces cubics")]
    public void A_cubic_over_uneven_knots_is_reproduced()
    {
        double[] t = [0, 0.3, 1.7, 2, 4, 4.5, 7];
        double F(double u) => 1 - 2 * u + 0.5 * u * u - 0.07 * u * u * u;
        var z = t.Select(F).ToArray();
        var curve = new PlaneSpline(t, z, z, NotAKnot.SecondDerivatives(t, z), NotAKnot.SecondDerivatives(t, z));
        for (var u = 0.0; u <= 7; u += 0.13)
            Assert.Equal(F(u), curve.At(u).Y, 1e-12);
    }

    [Fact]
    [Trait("source", "MathNet.Numerics CubicSpline.InterpolateNatural and scipy natural, checks.md 2.15")]
    public void The_reference_smoother_without_a_penalty_is_the_natural_spline()
    {
        var spline = new ReinschSpline(X);
        spline.Factor(0);
        double[] values = new double[7],
            seconds = new double[7];
        spline.Smooth(Y, values, seconds);
        var curve = new PlaneSpline(X, X, values, new double[7], seconds);
        var natural = CubicSpline.InterpolateNatural(X, Y);
        for (var u = 0.0; u <= 6; u += 0.1)
            Assert.Equal(natural.Interpolate(u), curve.At(u).Y, 1e-12);
        foreach (var row in TestData.Csv("spline_reference.csv"))
            Assert.Equal(row[1], curve.At(row[0]).Y, 1e-12);
    }

    [Fact]
    [Trait("source", "dense solution by MathNet.Numerics")]
    public void The_banded_fit_its_trace_and_its_covariance_are_those_of_the_dense_equations()
    {
        var random = new Random(3);
        var t = Enumerable.Range(0, 60).Select(_ => 100 * random.NextDouble()).Order().ToArray();
        double[] x = [.. t.Select(v => v + random.NextDouble())],
            y = [.. t.Select(v => 20 * Math.Sin(v / 15) + random.NextDouble())];
        var basis = new CubicBasis(0, 5, 20);
        var weights = Enumerable.Range(0, 20).Select(_ => 0.1 + random.NextDouble()).ToArray();
        var fit = new PenalisedFit(basis.Count);
        fit.Load(basis, t, x, y);
        fit.Weigh(weights);
        const double lambda = 37;
        fit.Solve(lambda);

        var b = Dense(basis, t, (u, four) => CubicBasis.Values(u, four));
        var penalty = Matrix<double>.Build.Dense(basis.Count, basis.Count);
        for (var i = 0; i < 20; i++)
            foreach (var (node, weight) in ((double, double)[])[(0.2113248654051871, 0.5), (0.7886751345948129, 0.5)])
            {
                var second = Vector<double>.Build.Dense(basis.Count);
                for (var p = 0; p < 4; p++)
                    second[i + p] = ((double[])[1 - node, 3 * node - 2, 1 - 3 * node, node])[p] / 25;
                penalty += weights[i] * weight * 5 * second.OuterProduct(second);
            }
        var system = b.TransposeThisAndMultiply(b) + lambda * penalty;
        var cx = system.Solve(b.TransposeThisAndMultiply(Vector<double>.Build.Dense(x)));
        var cy = system.Solve(b.TransposeThisAndMultiply(Vector<double>.Build.Dense(y)));
        for (var k = 0; k < t.Length; k++)
        {
            Assert.Equal((b.Row(k) * cx), fit.At(t[k]).X, 1e-9);
            Assert.Equal((b.Row(k) * cy), fit.At(t[k]).Y, 1e-9);
        }
        Assert.Equal(system.Solve(b.TransposeThisAndMultiply(b)).Trace(), fit.EffectiveParameters(), 1e-9);
        var (offX, offY) = (b * cx - Vector<double>.Build.Dense(x), b * cy - Vector<double>.Build.Dense(y));
        Assert.Equal(offX * offX + offY * offY, fit.ResidualSquares(), 1e-7);
        Assert.Equal(offX * offX + offY * offY + lambda * (cx * penalty * cx + cy * penalty * cy), fit.Minimum(), 1e-7);
        Assert.Equal(system.Cholesky().DeterminantLn, fit.LogDeterminant(), 1e-9);
        var functional = Vector<double>.Build.Random(basis.Count, 5);
        Assert.Equal(2 * functional.DotProduct(system.Solve(functional)), fit.Variance(functional.ToArray(), functional.ToArray()), 1e-9);
        var curve = fit.Curve();
        for (var u = 0.0; u <= 100; u += 1.7)
        {
            Assert.Equal(fit.At(u).Y, curve.At(u).Y, 1e-9);
            Assert.Equal(fit.PlaceAndVelocity(u).Velocity.X, curve.Velocity(u).X, 1e-9);
        }
    }

    private static Matrix<double> Dense(CubicBasis basis, double[] t, Four values)
    {
        var b = Matrix<double>.Build.Dense(t.Length, basis.Count);
        Span<double> four = stackalloc double[4];
        for (var k = 0; k < t.Length; k++)
        {
            var (i, within) = basis.Locate(t[k]);
            values(within, four);
            for (var p = 0; p < 4; p++)
                b[k, i + p] = four[p];
        }
        return b;
    }

    private delegate void Four(double u, Span<double> four);

    [Fact]
    public void The_determinant_of_many_large_pivots_does_not_overflow()
    {
        const int count = 400;
        double[][] diagonal =
        [
            [.. Enumerable.Repeat(1e30, count)],
            new double[count],
            new double[count],
            new double[count],
        ];
        double[][] nothing = [new double[count], new double[count], new double[count], new double[count]];
        var factor = new BandedFactor(count);
        factor.Factor(diagonal, nothing, 1, count);
        Assert.Equal(count * Math.Log(1e30), factor.LogDeterminant(), 1e-6);
    }

    [Fact]
    public void A_point_is_placed_at_its_foot_and_its_distance_from_there_is_told()
    {
        // A straight line drawn as a fit: the foot of a point is its x, its distance its y, also past the ends.
        var basis = new CubicBasis(0, 10, 10);
        double[] along = [.. Enumerable.Range(0, 101).Select(k => (double)k)],
            zero = new double[101];
        var line = new PenalisedFit(basis.Count);
        line.Load(basis, along, along, zero);
        line.Weigh([]);
        line.Solve(1);
        double[] t = [3, 50, 90],
            x = [5, 42, 104],
            y = [2, -3, 1];
        Assert.Equal(4 + 9 + 1, Parameters.MoveToFeet(line, x, y, t), 1e-6);
        Assert.All(t.Zip(x), foot => Assert.Equal(foot.Second, foot.First, 1e-6));
    }

    [Fact]
    public void Points_further_apart_than_their_noise_are_placed_by_their_own_chords()
    {
        // 15 mm and 3 mm in turn: averaged over neighbours, every point would be misplaced by 4 mm.
        double[] x = [.. Enumerable.Range(0, 40).Select(k => 18.0 * (k / 2) + k % 2 * 15)];
        Assert.Equal(Parameters.OfChord(x, new double[40]), Parameters.OfAveragedChord(x, new double[40], 0.5));
    }

    [Fact]
    public void The_least_of_a_smooth_criterion_is_found_from_far_away()
    {
        foreach (var (least, guess) in ((double, double)[])[(3, 3), (3, -9), (-4, 10), (20, 1)])
            Assert.Equal(least, LambdaSearch.Least(v => Math.Cosh((v - least) / 3), guess, -30, 30), 0.01);
        Assert.Equal(-5, LambdaSearch.Least(v => v, 3, -5, 30));
        Assert.Equal(30, LambdaSearch.Least(v => -v, 3, -5, 30));
        Assert.Equal(30, LambdaSearch.Least(v => -v, 300, -5, 30));
    }

    [Fact]
    public void The_dip_is_found_as_well_from_one_guess_as_from_another()
    {
        // Steep on one side and level on the other: parabolas over a wide stretch creep towards the dip and seem to stand still.
        double Criterion(double v) => Math.Exp(-3 * v) + v;
        foreach (var guess in (double[])[-9, -2.5, 0, 0.366, 0.4, 5, 14])
            Assert.Equal(Math.Log(3) / 3, LambdaSearch.Least(Criterion, guess, -30, 30), 0.005);
    }

    [Fact]
    public void Arc_length_and_its_inverse_agree_with_a_circle()
    {
        var t = Enumerable.Range(0, 40).Select(k => 0.05 * k).ToArray();
        double[] x = [.. t.Select(v => 100 * Math.Sin(v))],
            y = [.. t.Select(v => 100 * Math.Cos(v))];
        var curve = new PlaneSpline(t, x, y, NotAKnot.SecondDerivatives(t, x), NotAKnot.SecondDerivatives(t, y));
        Assert.Equal(195, curve.Length, 1e-4);
        for (var s = 0.0; s <= 195; s += 3.3)
        {
            Assert.Equal(s / 100, curve.ParameterAtArc(s), 1e-5);
            Assert.Equal(s, curve.ArcAt(curve.ParameterAtArc(s)), 1e-8);
        }
        Assert.Equal(0.01, curve.Bend(0.97).Length, 1e-5);
    }

    [Theory]
    [InlineData(1, -6, 11, -6, 0, new[] { 1.0, 2, 3 })]
    [InlineData(0, 0, 2, -3, 0, new[] { 1.5 })]
    [InlineData(0, 1, -2, 1, 0, new double[0])]
    [InlineData(0, 1, 0, -4, 0, new[] { 2.0 })]
    [InlineData(1, 0, 0, 0, 8, new[] { 2.0 })]
    [InlineData(0, 0, 0, 5, 1, new double[0])]
    [InlineData(1, 0, 0, 0, 0, new[] { 0.0 })]
    public void A_cubic_piece_is_solved_for_a_level(double c3, double c2, double c1, double c0, double level, double[] roots)
    {
        Span<double> found = [0, 0, 0];
        var count = new Cubic(c0, c1, c2, c3, 4).Solve(level, found);
        // A level that is only touched is no crossing, but counts at most as one.
        if (roots.Length == 0 && count == 1)
            Assert.Equal(1, found[0], 1e-6);
        else
            Assert.Equal(roots, found[..count].ToArray().Select(r => Math.Round(r, 9)));
    }
}
