namespace BackHistory.Shape.Measures;

/// <summary>Normal equations in three unknowns.</summary>
internal struct Symmetric3
{
    private double aa,
        ab,
        ac,
        bb,
        bc,
        cc;

    /// <summary>Adds w·rowᵀrow.</summary>
    internal void Add(double w, double a, double b, double c)
    {
        aa += w * a * a;
        ab += w * a * b;
        ac += w * a * c;
        bb += w * b * b;
        bc += w * b * c;
        cc += w * c * c;
    }

    /// <summary>The diagonal raised by a share of itself (Marquardt).</summary>
    internal readonly Symmetric3 Damped(double share)
    {
        var damped = this;
        damped.aa *= 1 + share;
        damped.bb *= 1 + share;
        damped.cc *= 1 + share;
        return damped;
    }

    /// <summary>Solves by Cholesky on the matrix scaled to a unit diagonal, as its unknowns have different units.</summary>
    internal readonly (double A, double B, double C) Solve(double x, double y, double z)
    {
        double sa = Math.Sqrt(aa),
            sb = Math.Sqrt(bb),
            sc = Math.Sqrt(cc);
        double p = ab / (sa * sb),
            q = ac / (sa * sc),
            r = bc / (sb * sc);
        (x, y, z) = (x / sa, y / sb, z / sc);
        var d2 = 1 - p * p;
        var l = (r - p * q) / d2;
        var d3 = 1 - q * q - l * l * d2;
        y -= p * x;
        z -= q * x + l * y;
        var c = z / d3;
        var b = y / d2 - l * c;
        var a = x - p * b - q * c;
        return (a / sa, b / sb, c / sc);
    }
}
