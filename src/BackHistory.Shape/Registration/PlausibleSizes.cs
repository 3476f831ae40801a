namespace BackHistory.Shape.Registration;

/// <summary>
/// Between what sizes, in millimetres, a number can be part of a tracing of a horse. Whatever is traced, drawn, cut out of a mesh or read
/// from a file passes here before it is measured: beyond these bounds lies a slip of the unit or of the file, and far beyond them numbers
/// whose squares no longer are any. How wide and how long a back is follows method.md, section 2; the rest are engineering choices without
/// a source, far outside of what any sheet holds.
/// </summary>
public static class PlausibleSizes
{
    /// <summary>Horizontal extent of a cross-section.</summary>
    public const double NarrowestSection = 120,
        WidestSection = 900;

    /// <summary>Horizontal extent of a topline.</summary>
    public const double ShortestTopline = 300,
        LongestTopline = 2500;

    /// <summary>Vertical extent of either.</summary>
    public const double Tallest = 5000;

    /// <summary>From the origin of the sheet, the drawing or the scanner's room to anything on it: a kilometre.</summary>
    public const double FarthestFromOrigin = 1_000_000;

    /// <summary>From the traced line to a mark: marks are put on the horse.</summary>
    public const double FarthestMark = 5000;

    /// <summary>Standard deviation of a traced point: in more the widest back drowns, and what is left of it is a straight line.</summary>
    public const double MostNoise = 1000;

    /// <summary>Whether a place, in millimetres, can lie on a sheet, in a drawing or in a scanner's room.</summary>
    internal static bool OnSheet(Point p) => Math.Abs(p.X) <= FarthestFromOrigin && Math.Abs(p.Y) <= FarthestFromOrigin;

    /// <summary>The same for a corner of a mesh.</summary>
    internal static bool InRoom(Point3 p) => OnSheet(new Point(p.X, p.Y)) && Math.Abs(p.Z) <= FarthestFromOrigin;

    internal static readonly Refusal OffSheet = new(
        Refusal.ImplausibleSize,
        $"A place lies more than {FarthestFromOrigin / 1000:0} m from the origin of its sheet. Is this in millimetres?"
    );

    /// <summary>What of a tracing in a known unit lies where nothing can, as it was taken; null when nothing does.</summary>
    internal static Refusal? OfTaken(Tracing tracing)
    {
        var scale = Units.MillimetresPer(tracing.Unit)!.Value;
        if (tracing.Noise > MostNoise)
            return new(
                Refusal.ImplausibleSize,
                $"A noise of {Short(tracing.Noise)} mm is no scatter of a pen; at most {MostNoise} mm are taken."
            );
        foreach (var p in tracing.Points)
            if (!OnSheet(scale * p))
                return OffSheet;
        var known =
            (tracing.Midline is not { } m || OnSheet(scale * m))
            && (tracing.Level is not { } l || (OnSheet(scale * l.From) && OnSheet(scale * l.To)))
            && tracing.Marks.Values.All(mark => OnSheet(scale * mark));
        return known ? null : OffSheet;
    }

    /// <summary>How large a registered line is; null when a back can be that large.</summary>
    internal static Refusal? OfLine(TracingKind kind, double[] x, double[] y)
    {
        if (x.Length == 0)
            return null;
        var (least, most) = kind == TracingKind.CrossSection ? (NarrowestSection, WidestSection) : (ShortestTopline, LongestTopline);
        var extent = x.Max() - x.Min();
        if (!(extent >= least && extent <= most))
            return new(
                Refusal.ImplausibleSize,
                $"The tracing is {Short(extent)} mm across; {least} to {most} mm are plausible. Is this in millimetres?"
            );
        var height = y.Max() - y.Min();
        return height <= Tallest ? null : new(Refusal.ImplausibleSize, $"The tracing is {height:0} mm high. Is this in millimetres?");
    }

    /// <summary>A registered mark that lies on no horse with this line; null when there is none.</summary>
    internal static Refusal? OfMarks(IReadOnlyDictionary<string, Point> marks, double[] x, double[] y)
    {
        if (x.Length == 0)
            return null;
        var (left, right, bottom, top) = (x.Min(), x.Max(), y.Min(), y.Max());
        foreach (var (name, mark) in marks.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            var off = Math.Max(Math.Max(left - mark.X, mark.X - right), Math.Max(bottom - mark.Y, mark.Y - top));
            if (!(off <= FarthestMark))
                return new(
                    Refusal.ImplausibleSize,
                    $"The mark '{name}' lies {off:0} mm from the traced line; a mark is put on the horse. Is this in millimetres?"
                );
        }
        return null;
    }

    /// <summary>A wild number in few digits.</summary>
    private static string Short(double value) =>
        value.ToString(Math.Abs(value) < 1e9 ? "0.###" : "0.##E+0", System.Globalization.CultureInfo.InvariantCulture);
}
