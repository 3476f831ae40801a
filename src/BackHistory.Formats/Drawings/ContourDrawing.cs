using System.Globalization;
using System.Text;
using System.Xml.Linq;

namespace BackHistory.Formats.Drawings;

/// <summary>
/// Contours at 1:1 for the bench: as SVG that prints at full size, and as DXF (R12, which everything reads) in millimetres.
/// </summary>
public static class ContourDrawing
{
    private const double MarginMillimetres = 10;

    /// <summary>SVG whose user unit is a millimetre; y is turned, as the format's grows downwards.</summary>
    public static string Svg(IReadOnlyList<DrawnLine> lines)
    {
        var (left, bottom, right, top) = Bounds(lines);
        var (width, height) = (right - left + 2 * MarginMillimetres, top - bottom + 2 * MarginMillimetres);
        XNamespace svg = "http://www.w3.org/2000/svg";
        var root = new XElement(
            svg + "svg",
            new XAttribute("width", Text(width) + "mm"),
            new XAttribute("height", Text(height) + "mm"),
            new XAttribute("viewBox", $"{Text(left - MarginMillimetres)} {Text(-top - MarginMillimetres)} {Text(width)} {Text(height)}")
        );
        foreach (var line in lines)
        {
            var d = "M" + string.Join('L', line.Points.Select(p => $"{Text(p.X)} {Text(-p.Y)}"));
            root.Add(
                new XElement(
                    svg + "path",
                    new XAttribute("id", Safe(line.Name)),
                    new XAttribute("fill", "none"),
                    new XAttribute("stroke", "#000"),
                    new XAttribute("stroke-width", "0.35"),
                    new XAttribute("d", d)
                )
            );
        }
        return new XDocument(new XDeclaration("1.0", "utf-8", null), root).Declaration + "\n" + root;
    }

    /// <summary>DXF with one polyline a line, each on a layer of its name.</summary>
    public static string Dxf(IReadOnlyList<DrawnLine> lines)
    {
        var dxf = new StringBuilder();
        void Pair(int code, string text) => dxf.Append(CultureInfo.InvariantCulture, $"{code}\n{text}\n");
        Pair(0, "SECTION");
        Pair(2, "HEADER");
        Pair(9, "$ACADVER");
        Pair(1, "AC1009");
        Pair(9, "$INSUNITS");
        Pair(70, "4");
        Pair(0, "ENDSEC");
        Pair(0, "SECTION");
        Pair(2, "ENTITIES");
        foreach (var line in lines)
        {
            var layer = Safe(line.Name);
            Pair(0, "POLYLINE");
            Pair(8, layer);
            Pair(66, "1");
            Pair(70, "0");
            Pair(10, "0.0");
            Pair(20, "0.0");
            Pair(30, "0.0");
            foreach (var p in line.Points)
            {
                Pair(0, "VERTEX");
                Pair(8, layer);
                Pair(10, Text(p.X));
                Pair(20, Text(p.Y));
                Pair(30, "0.0");
            }
            Pair(0, "SEQEND");
            Pair(8, layer);
        }
        Pair(0, "ENDSEC");
        Pair(0, "EOF");
        return dxf.ToString();
    }

    private static (double Left, double Bottom, double Right, double Top) Bounds(IReadOnlyList<DrawnLine> lines)
    {
        var points = lines.SelectMany(l => l.Points).ToArray();
        if (points.Length == 0)
            throw new ArgumentException("There is nothing to draw.", nameof(lines));
        return (points.Min(p => p.X), points.Min(p => p.Y), points.Max(p => p.X), points.Max(p => p.Y));
    }

    /// <summary>A thousandth of a millimetre is finer than any plotter.</summary>
    private static string Text(double value) =>
        value.ToString("0.###", CultureInfo.InvariantCulture) is var text && text == "-0" ? "0" : text;

    private static string Safe(string name)
    {
        var safe = string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' ? c : '-'));
        return safe.Length == 0 ? "line" : safe;
    }
}
