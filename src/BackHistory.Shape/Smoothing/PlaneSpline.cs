namespace BackHistory.Shape.Smoothing;

/// <summary>
/// A plane curve of two cubic splines over common knots, given by values and second derivatives at the knots, with its arc length.
/// </summary>
internal sealed class PlaneSpline
{
    private readonly double[] t,
        x,
        y,
        xx,
        yy,
        arc;

    internal PlaneSpline(double[] t, double[] x, double[] y, double[] xx, double[] yy)
    {
        (this.t, this.x, this.y, this.xx, this.yy) = (t, x, y, xx, yy);
        arc = new double[t.Length];
        for (var i = 0; i + 1 < t.Length; i++)
            arc[i + 1] = arc[i] + ArcWithin(i, 0, t[i + 1] - t[i]);
    }

    /// <summary>The same curve in a frame whose origin lies <paramref name="height"/> higher.</summary>
    internal PlaneSpline Lowered(double height) => new(t, x, Array.ConvertAll(y, v => v - height), xx, yy);

    internal int Count => t.Length;
    internal double Start => t[0];
    internal double End => t[^1];
    internal double Length => arc[^1];

    internal double Knot(int i) => t[i];

    internal ReadOnlySpan<double> KnotX => x;
    internal ReadOnlySpan<double> KnotY => y;

    /// <summary>The interval that holds parameter <paramref name="at"/>.</summary>
    internal int Interval(double at) => Hold(t, at);

    /// <summary>The interval of an ascending, nearly even list that holds a value: guessed, then walked to.</summary>
    private static int Hold(double[] list, double value)
    {
        var last = list.Length - 2;
        var guess = (value - list[0]) / (list[^1] - list[0]) * (last + 1);
        var i = guess > 0 ? (int)Math.Min(guess, last) : 0;
        while (i > 0 && value < list[i])
            i--;
        while (i < last && value >= list[i + 1])
            i++;
        return i;
    }

    internal Point At(double at) => At(Interval(at), at);

    internal Point At(int i, double at)
    {
        double h = t[i + 1] - t[i],
            b = (at - t[i]) / h,
            a = 1 - b;
        double p = (a * a * a - a) * h * h / 6,
            q = (b * b * b - b) * h * h / 6;
        return new Point(a * x[i] + b * x[i + 1] + p * xx[i] + q * xx[i + 1], a * y[i] + b * y[i + 1] + p * yy[i] + q * yy[i + 1]);
    }

    /// <summary>First derivative by the parameter.</summary>
    internal Point Velocity(int i, double at)
    {
        double h = t[i + 1] - t[i],
            b = (at - t[i]) / h,
            a = 1 - b;
        double p = (1 - 3 * a * a) * h / 6,
            q = (3 * b * b - 1) * h / 6;
        return new Point((x[i + 1] - x[i]) / h + p * xx[i] + q * xx[i + 1], (y[i + 1] - y[i]) / h + p * yy[i] + q * yy[i + 1]);
    }

    internal Point Velocity(double at) => Velocity(Interval(at), at);

    /// <summary>Curvature vector, 1/mm: points to the centre of the circle that hugs the curve.</summary>
    internal Point Bend(double at)
    {
        var i = Interval(at);
        double h = t[i + 1] - t[i],
            b = (at - t[i]) / h,
            a = 1 - b;
        var velocity = Velocity(i, at);
        var acceleration = new Point(a * xx[i] + b * xx[i + 1], a * yy[i] + b * yy[i + 1]);
        var square = velocity.Dot(velocity);
        return 1 / square * (acceleration - acceleration.Dot(velocity) / square * velocity);
    }

    /// <summary>Second derivative by the parameter.</summary>
    internal Point Acceleration(double at)
    {
        var i = Interval(at);
        double b = (at - t[i]) / (t[i + 1] - t[i]),
            a = 1 - b;
        return new Point(a * xx[i] + b * xx[i + 1], a * yy[i] + b * yy[i + 1]);
    }

    /// <summary>Unit tangent towards growing parameter.</summary>
    internal Point Tangent(double at)
    {
        var v = Velocity(at);
        var speed = v.Length;
        return speed > 0 ? new Point(v.X / speed, v.Y / speed) : new Point(1, 0);
    }

    /// <summary>Arc length from the start of the curve.</summary>
    internal double ArcAt(double at)
    {
        var i = Interval(at);
        return arc[i] + ArcWithin(i, 0, at - t[i]);
    }

    /// <summary>The parameter at an arc length from the start, by Newton's method inside the knot interval that holds it.</summary>
    internal double ParameterAtArc(double length)
    {
        var i = Hold(arc, length);
        double low = t[i],
            high = t[i + 1],
            wanted = length - arc[i];
        var at = low + (high - low) * wanted / (arc[i + 1] - arc[i]);
        for (var step = 0; step < 30; step++)
        {
            var off = ArcWithin(i, 0, at - t[i]) - wanted;
            if (Math.Abs(off) < 1e-10)
                break;
            if (off > 0)
                high = at;
            else
                low = at;
            var speed = Velocity(i, at).Length;
            var next = at - off / speed;
            at = next > low && next < high ? next : (low + high) / 2;
        }
        return at;
    }

    private double ArcWithin(int i, double from, double to)
    {
        double half = (to - from) / 2,
            middle = (to + from) / 2,
            sum = 0;
        for (var k = 0; k < Gauss.Nodes.Length; k++)
            sum += Gauss.Weights[k] * Velocity(i, t[i] + middle + half * Gauss.Nodes[k]).Length;
        return half * sum;
    }

    /// <summary>Coefficients c0 + c1·u + c2·u² + c3·u³ of one coordinate on interval i, u = t − t[i].</summary>
    internal Cubic CubicX(int i) => Cubic.Between(t[i + 1] - t[i], x[i], x[i + 1], xx[i], xx[i + 1]);

    /// <inheritdoc cref="CubicX"/>
    internal Cubic CubicY(int i) => Cubic.Between(t[i + 1] - t[i], y[i], y[i + 1], yy[i], yy[i + 1]);
}
