namespace BackHistory.Shape.Smoothing;

/// <summary>
/// Least squares of a plane curve of cubic B-splines to points at given parameters, with a penalty on its squared second derivative
/// that may weigh differently along the curve: minimises Σ|z − c(t)|² + λ∫w(t)|c″(t)|²dt (Eilers &amp; Marx 1996, Stat. Sci. 11:89–121).
/// Every step is linear in the number of splines.
/// </summary>
internal sealed class PenalisedFit
{
    // ∫ of products of the second derivatives of the four splines over one interval of unit length.
    private static readonly double[,] Bending =
    {
        { 1 / 3.0, -1 / 2.0, 0, 1 / 6.0 },
        { -1 / 2.0, 1, -1 / 2.0, 0 },
        { 0, -1 / 2.0, 1, -1 / 2.0 },
        { 1 / 6.0, 0, -1 / 2.0, 1 / 3.0 },
    };

    private readonly double[][] gram,
        penalty;
    private readonly double[] momentX,
        momentY,
        cx,
        cy;
    private readonly BandedFactor factor;
    private double[] t = [],
        x = [],
        y = [];
    private double squares,
        lambda;

    /// <param name="capacity">most splines that any basis will have</param>
    internal PenalisedFit(int capacity)
    {
        gram = [new double[capacity], new double[capacity], new double[capacity], new double[capacity]];
        penalty = [new double[capacity], new double[capacity], new double[capacity], new double[capacity]];
        (momentX, momentY, cx, cy) = (new double[capacity], new double[capacity], new double[capacity], new double[capacity]);
        factor = new BandedFactor(capacity);
    }

    internal CubicBasis Basis { get; private set; }

    /// <summary>Takes points at parameters; the penalty weighs the same everywhere until <see cref="Weigh"/> says otherwise.</summary>
    internal void Load(CubicBasis basis, double[] parameters, double[] pointsX, double[] pointsY)
    {
        (Basis, t, x, y) = (basis, parameters, pointsX, pointsY);
        foreach (var band in gram)
            Array.Clear(band);
        Array.Clear(momentX);
        Array.Clear(momentY);
        squares = 0;
        Span<double> four = stackalloc double[4];
        for (var k = 0; k < t.Length; k++)
        {
            var (i, within) = basis.Locate(t[k]);
            CubicBasis.Values(within, four);
            for (var p = 0; p < 4; p++)
            {
                momentX[i + p] += four[p] * x[k];
                momentY[i + p] += four[p] * y[k];
                for (var q = p; q < 4; q++)
                    gram[q - p][i + p] += four[p] * four[q];
            }
            squares += x[k] * x[k] + y[k] * y[k];
        }
    }

    /// <summary>Sets the weight of the penalty on each interval; an empty span weighs 1 everywhere.</summary>
    internal void Weigh(ReadOnlySpan<double> weights)
    {
        foreach (var band in penalty)
            Array.Clear(band);
        var scale = 1 / (Basis.Step * Basis.Step * Basis.Step);
        for (var i = 0; i < Basis.Intervals; i++)
        {
            var w = weights.IsEmpty ? scale : scale * weights[i];
            for (var p = 0; p < 4; p++)
            for (var q = p; q < 4; q++)
                penalty[q - p][i + p] += w * Bending[p, q];
        }
    }

    /// <summary>
    /// The λ that matter: at the lower end not even the shortest bend is smoothed, at the upper end nothing but a line is left; beyond them
    /// the equations only lose digits.
    /// </summary>
    internal (double Least, double Most) LambdaRange => (1e-4 * Math.Pow(Basis.Step, 3), 1e9 * Math.Pow(Basis.Step, 3));

    /// <summary>Fits with a penalty λ.</summary>
    internal void Solve(double lambda)
    {
        this.lambda = lambda;
        var count = Basis.Count;
        factor.Factor(gram, penalty, lambda, count);
        Array.Copy(momentX, cx, count);
        Array.Copy(momentY, cy, count);
        factor.Solve(cx, cy);
    }

    /// <summary>Trace of the smoother of one coordinate.</summary>
    internal double EffectiveParameters() => factor.TraceOfInverseTimes(gram);

    /// <summary>What the fit minimised: the residual squares and the penalty, mm².</summary>
    internal double Minimum()
    {
        double mixed = 0;
        for (var i = 0; i < Basis.Count; i++)
            mixed += cx[i] * momentX[i] + cy[i] * momentY[i];
        var rest = squares - mixed;
        // Nearly interpolated points leave a difference of large numbers: then both parts are counted.
        return rest > 1e-9 * squares ? rest : ResidualSquares() + lambda * Roughness();
    }

    /// <summary>Natural logarithm of the determinant of the normal equations of one coordinate.</summary>
    internal double LogDeterminant() => factor.LogDeterminant();

    /// <summary>∫w(t)|c″(t)|²dt.</summary>
    private double Roughness()
    {
        double[] p0 = penalty[0],
            p1 = penalty[1],
            p2 = penalty[2],
            p3 = penalty[3];
        double form = 0;
        for (var i = 0; i < Basis.Count; i++)
        {
            double px = p0[i] * cx[i],
                py = p0[i] * cy[i];
            if (i + 1 < Basis.Count)
            {
                px += 2 * p1[i] * cx[i + 1];
                py += 2 * p1[i] * cy[i + 1];
            }
            if (i + 2 < Basis.Count)
            {
                px += 2 * p2[i] * cx[i + 2];
                py += 2 * p2[i] * cy[i + 2];
            }
            if (i + 3 < Basis.Count)
            {
                px += 2 * p3[i] * cx[i + 3];
                py += 2 * p3[i] * cy[i + 3];
            }
            form += cx[i] * px + cy[i] * py;
        }
        return form;
    }

    /// <summary>Sum of squared distances of the points from their places on the curve, mm².</summary>
    internal double ResidualSquares()
    {
        double sum = 0;
        for (var k = 0; k < t.Length; k++)
        {
            var off = At(t[k]) - new Point(x[k], y[k]);
            sum += off.Dot(off);
        }
        return sum;
    }

    internal Point At(double parameter)
    {
        var (i, within) = Basis.Locate(parameter);
        Span<double> four = stackalloc double[4];
        CubicBasis.Values(within, four);
        return Combine(i, four);
    }

    /// <summary>The point at a parameter and the first derivative there.</summary>
    internal (Point At, Point Velocity) PlaceAndVelocity(double parameter)
    {
        var (i, within) = Basis.Locate(parameter);
        Span<double> four = stackalloc double[4];
        CubicBasis.Values(within, four);
        var place = Combine(i, four);
        Basis.Slopes(within, four);
        return (place, Combine(i, four));
    }

    private Point Combine(int i, ReadOnlySpan<double> four) =>
        new(
            four[0] * cx[i] + four[1] * cx[i + 1] + four[2] * cx[i + 2] + four[3] * cx[i + 3],
            four[0] * cy[i] + four[1] * cy[i + 1] + four[2] * cy[i + 2] + four[3] * cy[i + 3]
        );

    /// <summary>The fitted curve by its values and second derivatives at the breakpoints.</summary>
    internal PlaneSpline Curve()
    {
        var n = Basis.Intervals + 1;
        double[] knots = new double[n],
            px = new double[n],
            py = new double[n],
            xx = new double[n],
            yy = new double[n];
        var square = Basis.Step * Basis.Step;
        for (var i = 0; i < n; i++)
        {
            knots[i] = Basis.From + i * Basis.Step;
            (px[i], py[i]) = ((cx[i] + 4 * cx[i + 1] + cx[i + 2]) / 6, (cy[i] + 4 * cy[i + 1] + cy[i + 2]) / 6);
            (xx[i], yy[i]) = ((cx[i] - 2 * cx[i + 1] + cx[i + 2]) / square, (cy[i] - 2 * cy[i + 1] + cy[i + 2]) / square);
        }
        return new PlaneSpline(knots, px, py, xx, yy);
    }

    /// <summary>Squared length of the second derivative at breakpoint i.</summary>
    internal double SquaredBend(int i)
    {
        var square = Basis.Step * Basis.Step;
        var (bx, by) = ((cx[i] - 2 * cx[i + 1] + cx[i + 2]) / square, (cy[i] - 2 * cy[i + 1] + cy[i + 2]) / square);
        return bx * bx + by * by;
    }

    /// <summary>
    /// Variance of a linear functional of the curve, per unit variance of a coordinate, given its weights on the coefficients of both
    /// coordinates (overwritten): the posterior of the smoothing prior (Wahba 1983, J. R. Stat. Soc. B 45:133–150), which holds
    /// the smoothing bias as well as the scatter.
    /// </summary>
    internal double Variance(Span<double> onX, Span<double> onY) => factor.InverseForm(onX) + factor.InverseForm(onY);
}
