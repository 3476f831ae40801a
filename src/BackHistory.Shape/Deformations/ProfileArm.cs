using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Deformations;

/// <summary>
/// One side of a cross-section as a line of points from M outwards, mm: how far out and how deep it lies. Coarse beside an <see
/// cref="Contours.Arm"/>: it says how measures change when the back changes, not what they are.
/// </summary>
internal sealed class ProfileArm
{
    private const double Stride = 0.5,
        Step = 2,
        Beyond = 40,
        Degree = Math.PI / 180;

    private readonly double[] _arc,
        _out,
        _depth;

    private ProfileArm(List<double> across, List<double> depth)
    {
        (_out, _depth, _arc) = ([.. across], [.. depth], new double[across.Count]);
        for (var i = 1; i < _arc.Length; i++)
            _arc[i] = _arc[i - 1] + Math.Sqrt(Square(_out[i] - _out[i - 1]) + Square(_depth[i] - _depth[i - 1]));
    }

    internal double Length => _arc[^1];

    /// <summary>Through the reaches at some depths, level at M, and straight on beyond the deepest.</summary>
    /// <param name="depths">mm, ascending.</param>
    /// <param name="reaches">mm, at those depths.</param>
    /// <returns>Null where a reach does not grow with its depth.</returns>
    internal static ProfileArm? Through(ReadOnlySpan<double> depths, ReadOnlySpan<double> reaches)
    {
        var n = depths.Length + 1;
        var (x, y) = (new double[n], new double[n]);
        for (var i = 1; i < n; i++)
        {
            (x[i], y[i]) = (reaches[i - 1], depths[i - 1]);
            if (!(x[i] > x[i - 1] + 1))
                return null;
        }
        var slopes = Pchip.Slopes(x, y);
        slopes[0] = 0;
        var (across, deep) = (new List<double> { 0 }, new List<double> { 0 });
        double gone = 0,
            last = 0,
            depth = 0;
        for (var at = Stride; depth < y[^1] + Beyond && across.Count < 1000; at += Stride)
        {
            var next = at < x[^1] ? Pchip.At(x, y, slopes, Pchip.Interval(x, at), at) : y[^1] + slopes[^1] * (at - x[^1]);
            gone += Math.Sqrt(Stride * Stride + Square(next - depth));
            depth = next;
            if (gone - last < Step)
                continue;
            last = gone;
            across.Add(at);
            deep.Add(depth);
        }
        return new(across, deep);
    }

    /// <summary>Every piece turned, positive = steeper, by a share of the degrees that hangs on its arc from M, mm.</summary>
    internal ProfileArm Turned(double degrees, Func<double, double> share)
    {
        var (across, depth) = (new List<double>(_arc.Length) { 0 }, new List<double>(_arc.Length) { 0 });
        for (var i = 1; i < _arc.Length; i++)
        {
            var (dx, dy) = (_out[i] - _out[i - 1], _depth[i] - _depth[i - 1]);
            var turn = degrees * share((_arc[i] + _arc[i - 1]) / 2) * Degree;
            across.Add(across[^1] + dx * Math.Cos(turn) - dy * Math.Sin(turn));
            depth.Add(depth[^1] + dx * Math.Sin(turn) + dy * Math.Cos(turn));
        }
        return new(across, depth);
    }

    /// <summary>Raised along its normal by so many mm as hang on the arc from M.</summary>
    internal ProfileArm Raised(Func<double, double> height)
    {
        var (across, depth) = (new List<double>(_arc.Length), new List<double>(_arc.Length));
        for (var i = 0; i < _arc.Length; i++)
        {
            var (before, after) = (Math.Max(0, i - 1), Math.Min(_arc.Length - 1, i + 1));
            var length = _arc[after] - _arc[before];
            var (cos, sin) = ((_out[after] - _out[before]) / length, (_depth[after] - _depth[before]) / length);
            var raised = height(_arc[i]);
            across.Add(_out[i] + raised * sin);
            depth.Add(_depth[i] - raised * cos);
        }
        return new(across, depth);
    }

    /// <summary>The outermost reach at a depth, mm; not a number where it is not covered.</summary>
    internal double Reach(double depth)
    {
        for (var i = _arc.Length - 1; i > 0; i--)
            if (_depth[i] >= depth && _depth[i - 1] < depth)
                return _out[i - 1] + (_out[i] - _out[i - 1]) * (depth - _depth[i - 1]) / (_depth[i] - _depth[i - 1]);
        return double.NaN;
    }

    /// <summary>Degrees below horizontal of the line through the points between two arcs.</summary>
    internal double Slope(double from, double to)
    {
        if (_arc[^1] < to)
            return double.NaN;
        double n = 0,
            mx = 0,
            my = 0,
            xx = 0,
            yy = 0,
            xy = 0;
        for (var i = 0; i < _arc.Length; i++)
            if (_arc[i] >= from && _arc[i] <= to)
            {
                n++;
                var (dx, dy) = (_out[i] - mx, _depth[i] - my);
                mx += dx / n;
                my += dy / n;
                xx += dx * (_out[i] - mx);
                yy += dy * (_depth[i] - my);
                xy += dx * (_depth[i] - my);
            }
        return Math.Atan2(2 * xy, xx - yy) / 2 / Degree;
    }

    /// <summary>mm² between the contour and the level of a depth.</summary>
    internal double Area(double depth)
    {
        var reach = Reach(depth);
        if (double.IsNaN(reach))
            return reach;
        double area = 0;
        for (var i = 1; i < _arc.Length; i++)
        {
            var (a, b) = (_depth[i - 1], _depth[i]);
            if (a >= depth)
                break;
            var part = b <= depth ? 1 : (depth - a) / (b - a);
            area += (_out[i - 1] + _out[i - 1] + part * (_out[i] - _out[i - 1])) / 2 * part * (b - a);
        }
        return area;
    }

    /// <summary>The place at an arc from M.</summary>
    internal (double Out, double Depth) At(double arc)
    {
        var i = Math.Clamp(
            Array.BinarySearch(_arc, arc) is >= 0 and var found ? found : ~Array.BinarySearch(_arc, arc),
            1,
            _arc.Length - 1
        );
        var part = (arc - _arc[i - 1]) / (_arc[i] - _arc[i - 1]);
        return (_out[i - 1] + part * (_out[i] - _out[i - 1]), _depth[i - 1] + part * (_depth[i] - _depth[i - 1]));
    }

    private static double Square(double value) => value * value;
}
