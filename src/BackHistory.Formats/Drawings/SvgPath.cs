using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>The `d` of an SVG path, drawn as lines (SVG 2, chapter 9).</summary>
internal sealed class SvgPath(string d, Affine transform, Drawing drawing, string name)
{
    private readonly NumberScanner scanner = new(d);
    private List<Point> line = [];

    // In user units: where the pen is, where the subpath began, and the last control point, for the commands that mirror it.
    private Point pen,
        start,
        control;
    private char last;

    internal void Draw()
    {
        char? command = null;
        while (!scanner.AtEnd)
        {
            var letter = scanner.Letter();
            command = letter ?? Repeated(command);
            if (command is not { } c)
                throw ImportException.Unreadable("A path of the drawing does not begin with a command.");
            if (last == 0 && c is not ('M' or 'm'))
                throw ImportException.Unreadable("A path of the drawing does not begin with a move.");
            Do(char.ToUpperInvariant(c), char.IsAsciiLetterLower(c) ? pen : default);
            last = char.ToUpperInvariant(c);
        }
        End();
    }

    /// <summary>Numbers without a command go on with the last one; after a move they are lines.</summary>
    private static char? Repeated(char? command) =>
        command switch
        {
            'M' => 'L',
            'm' => 'l',
            'Z' or 'z' => null,
            _ => command,
        };

    private void Do(char command, Point from)
    {
        switch (command)
        {
            case 'M':
                Move(from + Pair());
                break;
            case 'L':
                LineTo(from + Pair());
                break;
            case 'H':
                LineTo(new Point(from.X + scanner.Number(), pen.Y));
                break;
            case 'V':
                LineTo(new Point(pen.X, from.Y + scanner.Number()));
                break;
            case 'C':
                CurveTo(from + Pair(), from + Pair(), from + Pair());
                break;
            case 'S':
                CurveTo(last is 'C' or 'S' ? 2 * pen - control : pen, from + Pair(), from + Pair());
                break;
            case 'Q':
                QuadraticTo(from + Pair(), from + Pair());
                break;
            case 'T':
                QuadraticTo(last is 'Q' or 'T' ? 2 * pen - control : pen, from + Pair());
                break;
            case 'A':
                ArcTo(from);
                break;
            case 'Z':
                Close();
                break;
            default:
                throw ImportException.Unreadable($"A path of the drawing has the unknown command '{command}'.");
        }
    }

    private Point Pair() => new(scanner.Number(), scanner.Number());

    private const double Tolerance = ContourImport.FlatnessMillimetres;

    private void End()
    {
        drawing.Add(name, line);
        line = [];
    }

    private void Move(Point to)
    {
        End();
        drawing.Count(1);
        line.Add(transform * to);
        pen = start = to;
    }

    private void Close()
    {
        LineTo(start);
        End();
        line.Add(transform * start);
    }

    private void LineTo(Point to)
    {
        drawing.Count(1);
        line.Add(transform * to);
        pen = to;
    }

    private void CurveTo(Point b, Point c, Point to)
    {
        Flatten.Bezier(line, transform * pen, transform * b, transform * c, transform * to, Tolerance, drawing);
        (control, pen) = (c, to);
    }

    private void QuadraticTo(Point b, Point to)
    {
        // A quadratic curve is the cubic one with its control point two thirds of the way from either end.
        Point first = 1.0 / 3 * pen + 2.0 / 3 * b,
            second = 1.0 / 3 * to + 2.0 / 3 * b;
        Flatten.Bezier(line, transform * pen, transform * first, transform * second, transform * to, Tolerance, drawing);
        (control, pen) = (b, to);
    }

    /// <summary>From end points to centre (SVG 2, appendix B.2.4).</summary>
    private void ArcTo(Point from)
    {
        double rx = Math.Abs(scanner.Number()),
            ry = Math.Abs(scanner.Number()),
            turn = scanner.Number() * Math.PI / 180;
        bool large = scanner.Flag(),
            clockwise = scanner.Flag();
        var to = from + Pair();
        if (rx == 0 || ry == 0 || to == pen)
        {
            LineTo(to);
            return;
        }
        var (sin, cos) = Math.SinCos(turn);
        var half = 0.5 * (pen - to);
        double x = (cos * half.X + sin * half.Y) / rx,
            y = (cos * half.Y - sin * half.X) / ry,
            square = x * x + y * y;
        if (square > 1)
        {
            // Radii too small to reach both ends grow until they do.
            var grow = Math.Sqrt(square);
            (rx, ry, x, y, square) = (rx * grow, ry * grow, x / grow, y / grow, 1);
        }
        var away = Math.Sqrt(Math.Max(0, 1 / square - 1)) * (large == clockwise ? -1 : 1);
        // On the unit circle that the ellipse is the image of.
        var (centreX, centreY) = (away * y, -away * x);
        var (begin, end) = (Math.Atan2(y - centreY, x - centreX), Math.Atan2(-y - centreY, -x - centreX));
        var sweep = end - begin;
        if (clockwise && sweep < 0)
            sweep += 2 * Math.PI;
        if (!clockwise && sweep > 0)
            sweep -= 2 * Math.PI;
        Point u = rx * new Point(cos, sin),
            v = ry * new Point(-sin, cos);
        var centre = 0.5 * (pen + to) + centreX * u + centreY * v;
        Flatten.Arc(line, transform * centre, transform.Turn(u), transform.Turn(v), begin, sweep, Tolerance, drawing);
        pen = to;
    }
}
