using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>A plane affine map, as SVG writes it: x′ = a·x + c·y + e, y′ = b·x + d·y + f.</summary>
internal readonly record struct Affine(double A, double B, double C, double D, double E, double F)
{
    internal static Affine Identity => new(1, 0, 0, 1, 0, 0);

    internal static Affine Scale(double x, double y) => new(x, 0, 0, y, 0, 0);

    private static Affine Translate(double x, double y) => new(1, 0, 0, 1, x, y);

    private static Affine Rotate(double degrees)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return new(cos, sin, -sin, cos, 0, 0);
    }

    /// <summary>First the right one, then the left one.</summary>
    public static Affine operator *(Affine m, Affine n) =>
        new(
            m.A * n.A + m.C * n.B,
            m.B * n.A + m.D * n.B,
            m.A * n.C + m.C * n.D,
            m.B * n.C + m.D * n.D,
            m.A * n.E + m.C * n.F + m.E,
            m.B * n.E + m.D * n.F + m.F
        );

    public static Point operator *(Affine m, Point p) => new(m.A * p.X + m.C * p.Y + m.E, m.B * p.X + m.D * p.Y + m.F);

    /// <summary>The map without its shift.</summary>
    internal Point Turn(Point p) => new(A * p.X + C * p.Y, B * p.X + D * p.Y);

    /// <summary>A list of SVG transforms; the identity for none.</summary>
    internal static Affine Parse(string? text)
    {
        var map = Identity;
        if (string.IsNullOrWhiteSpace(text))
            return map;
        foreach (var part in text.Split(')', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var bracket = part.IndexOf('(', StringComparison.Ordinal);
            if (bracket < 0)
                throw ImportException.Unreadable("A transform of the drawing cannot be read.");
            var (scanner, numbers) = (new NumberScanner(part[(bracket + 1)..]), new List<double>());
            while (!scanner.AtEnd && numbers.Count < 7)
                numbers.Add(scanner.Number());
            map *= One(part[..bracket].Trim(' ', ','), numbers);
        }
        return map;
    }

    private static Affine One(string name, List<double> n) =>
        (name, n.Count) switch
        {
            ("matrix", 6) => new(n[0], n[1], n[2], n[3], n[4], n[5]),
            ("translate", 1) => Translate(n[0], 0),
            ("translate", 2) => Translate(n[0], n[1]),
            ("scale", 1) => Scale(n[0], n[0]),
            ("scale", 2) => Scale(n[0], n[1]),
            ("rotate", 1) => Rotate(n[0]),
            ("rotate", 3) => Translate(n[1], n[2]) * Rotate(n[0]) * Translate(-n[1], -n[2]),
            ("skewX", 1) => new(1, 0, Math.Tan(n[0] * Math.PI / 180), 1, 0, 0),
            ("skewY", 1) => new(1, Math.Tan(n[0] * Math.PI / 180), 0, 1, 0, 0),
            _ => throw ImportException.Unreadable("A transform of the drawing cannot be read."),
        };
}
