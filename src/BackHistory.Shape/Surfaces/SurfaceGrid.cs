using System.Collections.Immutable;
using BackHistory.Shape.Contours;
using BackHistory.Shape.Smoothing;

namespace BackHistory.Shape.Surfaces;

/// <summary>A surface tabulated: rows along the back, columns from the left end over M to the right end by share of the arc.</summary>
internal sealed class SurfaceGrid
{
    private readonly double[] x,
        y,
        heights;
    private readonly bool[] covered;

    internal SurfaceGrid(BackSurface surface, int columnsPerSide, double[] rows)
    {
        (Rows, Columns) = (rows, 2 * columnsPerSide + 1);
        (x, y, covered) = (new double[rows.Length * Columns], new double[rows.Length * Columns], new bool[rows.Length * Columns]);
        heights = [.. rows.Select(surface.HeightAt)];
        var places = surface.Sections.Select(s => s.FromDatum).ToArray();
        var intervals = rows.Select(z => Pchip.Interval(places, z)).ToArray();
        var stations = places.Length;
        double[] ribX = new double[stations],
            ribY = new double[stations];
        var traced = new bool[stations];
        for (var j = 0; j < Columns; j++)
        {
            var share = (double)(j - columnsPerSide) / columnsPerSide;
            for (var s = 0; s < stations; s++)
                (ribX[s], ribY[s], traced[s]) = Rib(surface.Sections[s].Contour, share);
            double[] slopesX = Pchip.Slopes(places, ribX),
                slopesY = Pchip.Slopes(places, ribY);
            for (var k = 0; k < rows.Length; k++)
            {
                var (cell, i) = (k * Columns + j, intervals[k]);
                x[cell] = Pchip.At(places, ribX, slopesX, i, rows[k]);
                y[cell] = Pchip.At(places, ribY, slopesY, i, rows[k]);
                covered[cell] = traced[i] && traced[i + 1];
            }
        }
    }

    internal double[] Rows { get; }
    internal int Columns { get; }

    private static (double X, double Y, bool Traced) Rib(Contour contour, double share)
    {
        var arm = share < 0 ? contour.Left! : contour.Right!;
        var (at, _) = arm.Locate(Math.Abs(share) * arm.Length);
        var point = contour.Curve.At(at);
        return (point.X, point.Y, !contour.Gaps.Touch(at, at));
    }

    internal Point3 At(int row, int column) => new(x[row * Columns + column], y[row * Columns + column] + heights[row], Rows[row]);

    internal bool Covered(int row, int column) => covered[row * Columns + column];

    /// <summary>Depth of a cell below the midline of its row, mm.</summary>
    internal double Depth(int row, int column) => -y[row * Columns + column];

    /// <summary>A row in the frame of its own M.</summary>
    internal ImmutableArray<Point> Section(int row)
    {
        var points = ImmutableArray.CreateBuilder<Point>(Columns);
        for (var j = 0; j < Columns; j++)
            points.Add(new Point(x[row * Columns + j], y[row * Columns + j]));
        return points.MoveToImmutable();
    }

    internal TriangleMesh Mesh()
    {
        var vertices = ImmutableArray.CreateBuilder<Point3>(Rows.Length * Columns);
        var triangles = ImmutableArray.CreateBuilder<Triangle>(2 * (Rows.Length - 1) * (Columns - 1));
        for (var k = 0; k < Rows.Length; k++)
        for (var j = 0; j < Columns; j++)
            vertices.Add(At(k, j));
        for (var k = 0; k + 1 < Rows.Length; k++)
        for (var j = 0; j + 1 < Columns; j++)
        {
            var (a, b, c, d) = (k * Columns + j, k * Columns + j + 1, (k + 1) * Columns + j, (k + 1) * Columns + j + 1);
            triangles.Add(new Triangle(a, c, b));
            triangles.Add(new Triangle(b, c, d));
        }
        return new TriangleMesh(vertices.MoveToImmutable(), triangles.MoveToImmutable());
    }
}
