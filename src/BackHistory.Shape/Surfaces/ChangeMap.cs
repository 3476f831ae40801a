using System.Collections.Immutable;

namespace BackHistory.Shape.Surfaces;

/// <summary>
/// Signed distance from an earlier surface to a later one along the earlier one's normal, on the later surface's grid. Both surfaces stand
/// rigidly at the datum, with their first midline points on each other; nothing is scaled or turned.
/// </summary>
public sealed class ChangeMap
{
    private readonly SurfaceGrid later;
    private readonly double[] values;

    private ChangeMap(SurfaceGrid later, double[] values, BackSurface surface)
    {
        (this.later, this.values) = (later, values);
        (Gain, Loss) = (Extreme(surface, 1), Extreme(surface, -1));
    }

    /// <summary>The later surface as triangles; <see cref="Changes"/> has one value for each of its corners.</summary>
    public TriangleMesh Mesh() => later.Mesh();

    /// <summary>Millimetres, positive = more horse; not a number where one of the two was not traced.</summary>
    public ImmutableArray<double> Changes => [.. values];

    /// <summary>Where most was gained; null when nothing was.</summary>
    public ChangePlace? Gain { get; }

    /// <summary>Where most was lost; null when nothing was.</summary>
    public ChangePlace? Loss { get; }

    /// <summary>Compares where both surfaces reach, at about <paramref name="step"/> mm; null when they nowhere lie side by side.</summary>
    public static ChangeMap? Between(BackSurface earlier, BackSurface later, double step = 2)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(step, 0.2);
        var (from, to) = (Math.Max(earlier.Range.From, later.Range.From), Math.Min(earlier.Range.To, later.Range.To));
        if (!(to > from))
            return null;
        var rows = BackSurface.Rows(from, to, step);
        var (now, before) = (
            new SurfaceGrid(later, later.ColumnsPerSide(step), rows),
            new SurfaceGrid(earlier, earlier.ColumnsPerSide(step), rows)
        );
        var changes = new double[rows.Length * now.Columns];
        var nearest = new NearestOnGrid(before);
        for (var k = 0; k < rows.Length; k++)
        for (var j = 0; j < now.Columns; j++)
            changes[k * now.Columns + j] = now.Covered(k, j)
                ? nearest.SignedDistance(now.At(k, j), k, (double)j / (now.Columns - 1))
                : double.NaN;
        return new ChangeMap(now, changes, later);
    }

    private ChangePlace? Extreme(BackSurface surface, int sign)
    {
        var best = -1;
        for (var cell = 0; cell < values.Length; cell++)
            if (sign * values[cell] > (best < 0 ? 0 : sign * values[best]))
                best = cell;
        if (best < 0)
            return null;
        var (row, column) = (best / later.Columns, best % later.Columns);
        var at = later.At(row, column);
        var depth = later.Depth(row, column);
        var (side, words, along) = PlaceInWords.Describe(at, depth, surface.Sections);
        return new ChangePlace(values[best], at, side, depth, words) { Along = along };
    }
}
