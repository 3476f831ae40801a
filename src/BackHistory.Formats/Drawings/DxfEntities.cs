using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>The groups of one entity, in their order.</summary>
internal sealed class DxfEntity(List<DxfGroup> groups)
{
    internal IReadOnlyList<DxfGroup> Groups => groups;

    internal string? Text(int code)
    {
        foreach (var g in groups)
            if (g.Code == code)
                return g.Text;
        return null;
    }

    internal double Number(int code, double otherwise = double.NaN)
    {
        foreach (var g in groups)
            if (g.Code == code)
                return g.Number;
        return double.IsNaN(otherwise) ? throw ImportException.Unreadable($"An entity of the drawing lacks its group {code}.") : otherwise;
    }

    internal int Flags(int code) => Number(code, 0) is >= 0 and <= 65535 and var n ? (int)n : 0;

    internal double[] All(int code) => [.. groups.Where(g => g.Code == code).Select(g => g.Number)];

    /// <summary>Entities of the plane may be drawn from behind: then their x runs the other way.</summary>
    internal double Mirror => Number(230, 1) < 0 ? -1 : 1;
}

/// <summary>Entities of lines and arcs as points, in the units of the drawing.</summary>
internal static class DxfEntities
{
    internal static List<Point> Line(DxfEntity e) => [new(e.Number(10), e.Number(20)), new(e.Number(11), e.Number(21))];

    internal static List<Point> Arc(DxfEntity e, Drawing drawing)
    {
        var (radius, from, to) = (e.Number(40), e.Number(50) * Math.PI / 180, e.Number(51) * Math.PI / 180);
        var sweep = to - from;
        sweep -= 2 * Math.PI * Math.Floor(sweep / (2 * Math.PI));
        if (sweep == 0)
            sweep = 2 * Math.PI;
        var centre = new Point(e.Number(10), e.Number(20));
        var (sin, cos) = Math.SinCos(from);
        List<Point> line = [centre + radius * new Point(cos, sin)];
        Flatten.Arc(line, centre, new Point(radius, 0), new Point(0, radius), from, sweep, Flatness(radius), drawing);
        return Mirrored(line, e.Mirror);
    }

    internal static List<Point> LightPolyline(DxfEntity e, Drawing drawing)
    {
        var vertices = new List<(Point At, double Bulge)>();
        foreach (var g in e.Groups)
        {
            if (g.Code == 10)
                vertices.Add((new Point(g.Number, 0), 0));
            else if (vertices.Count > 0 && g.Code == 20)
                vertices[^1] = (new Point(vertices[^1].At.X, g.Number), vertices[^1].Bulge);
            else if (vertices.Count > 0 && g.Code == 42)
                vertices[^1] = (vertices[^1].At, g.Number);
        }
        return Mirrored(Through(vertices, (e.Flags(70) & 1) != 0, drawing), e.Mirror);
    }

    internal static List<Point> Polyline(DxfEntity e, DxfGroups groups, Drawing drawing)
    {
        var vertices = new List<(Point At, double Bulge)>();
        while (groups.NextEntity() is "VERTEX")
        {
            groups.Next();
            var vertex = groups.Entity();
            // Frame points of a fitted curve are no part of the line (flag 16).
            if ((vertex.Flags(70) & 16) == 0)
                vertices.Add((new Point(vertex.Number(10), vertex.Number(20)), vertex.Number(42, 0)));
        }
        // Meshes of three dimensions share the name (flags 16 and 64).
        return (e.Flags(70) & 80) != 0 ? [] : Mirrored(Through(vertices, (e.Flags(70) & 1) != 0, drawing), e.Mirror);
    }

    /// <summary>
    /// Straight pieces, or arcs where a vertex bulges: the tangent of a quarter of the angle to the next, positive to the left.
    /// </summary>
    private static List<Point> Through(List<(Point At, double Bulge)> vertices, bool closed, Drawing drawing)
    {
        if (vertices.Count == 0)
            return [];
        List<Point> line = [vertices[0].At];
        for (var k = 0; k + 1 < vertices.Count + (closed ? 1 : 0); k++)
        {
            var (from, bulge) = vertices[k];
            var to = vertices[(k + 1) % vertices.Count].At;
            var chord = to - from;
            if (bulge == 0 || chord.Length == 0)
            {
                line.Add(to);
                continue;
            }
            // The centre lies on the chord's bisector: chord · (1/bulge − bulge)/4 to the left.
            var centre = 0.5 * (from + to) + (1 / bulge - bulge) / 4 * new Point(-chord.Y, chord.X);
            var arm = from - centre;
            Flatten.Arc(line, centre, arm, new Point(-arm.Y, arm.X), 0, 4 * Math.Atan(bulge), Flatness(arm.Length), drawing);
        }
        return line;
    }

    /// <summary>Units are not known yet: a fraction of the radius stands for the tolerance, a fiftieth of a millimetre at 250 mm.</summary>
    private static double Flatness(double radius) => Math.Max(Math.Abs(radius), 1e-9) * 8e-5;

    private static List<Point> Mirrored(List<Point> line, double mirror) => mirror > 0 ? line : line.ConvertAll(p => new Point(-p.X, p.Y));
}
