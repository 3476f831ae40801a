using System.Globalization;
using System.Xml;
using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>
/// Lines of an SVG drawing (SVG 2, W3C): paths, polylines, polygons and lines with their transforms. Document type definitions are skipped,
/// entities not expanded, nothing outside the file is fetched. One user unit is 1/96 inch unless width, height and viewBox say otherwise.
/// </summary>
internal static class SvgReader
{
    private const int DeepestNesting = 100;

    private static readonly string[] NotDrawn =
    [
        "defs",
        "symbol",
        "clipPath",
        "mask",
        "pattern",
        "marker",
        "metadata",
        "style",
        "script",
        "text",
    ];

    internal static bool Read(ReadOnlyMemory<byte> file, double assumedMillimetres, Drawing drawing)
    {
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Ignore,
            XmlResolver = null,
            IgnoreComments = true,
        };
        using var stream = new MemoryStream(file.ToArray(), writable: false);
        try
        {
            using var xml = XmlReader.Create(stream, settings);
            return Read(xml, assumedMillimetres, drawing);
        }
        catch (XmlException broken)
        {
            throw ImportException.Unreadable($"This is not SVG that can be read: {broken.Message}");
        }
    }

    private static bool Read(XmlReader xml, double assumedMillimetres, Drawing drawing)
    {
        if (xml.MoveToContent() != XmlNodeType.Element || xml.LocalName != "svg")
            throw ImportException.Unreadable("The file is not an SVG drawing.");
        var (scale, stated) = UserUnit(xml, assumedMillimetres);
        var transforms = new Stack<Affine>();
        transforms.Push(Affine.Scale(scale, -scale));
        if (xml.IsEmptyElement)
            return stated;
        var depth = xml.Depth;
        while (xml.Read() && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth))
        {
            drawing.Breathe();
            if (xml.NodeType == XmlNodeType.EndElement)
                transforms.Pop();
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            if (NotDrawn.Contains(xml.LocalName, StringComparer.Ordinal) || IsHidden(xml))
            {
                Skip(xml);
                continue;
            }
            var here = transforms.Peek() * Affine.Parse(xml.GetAttribute("transform"));
            Draw(xml, here, drawing);
            if (xml.IsEmptyElement)
                continue;
            if (transforms.Count > DeepestNesting)
                throw ImportException.Unreadable("The drawing is nested too deeply.");
            transforms.Push(here);
        }
        return stated;
    }

    /// <summary>Passes over an element with all that is in it; the reader then stands on its end.</summary>
    private static void Skip(XmlReader xml)
    {
        if (xml.IsEmptyElement)
            return;
        var depth = xml.Depth;
        while (xml.Read() && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth)) { }
    }

    private static bool IsHidden(XmlReader xml) =>
        xml.GetAttribute("display") == "none"
        || (xml.GetAttribute("style") ?? "").Replace(" ", "", StringComparison.Ordinal).Contains("display:none", StringComparison.Ordinal);

    private static void Draw(XmlReader xml, Affine transform, Drawing drawing)
    {
        var name = xml.GetAttribute("id") ?? "";
        switch (xml.LocalName)
        {
            case "path":
                new SvgPath(xml.GetAttribute("d") ?? "", transform, drawing, name).Draw();
                break;
            case "line":
                drawing.Count(2);
                Point from = new(Attribute(xml, "x1"), Attribute(xml, "y1")),
                    to = new(Attribute(xml, "x2"), Attribute(xml, "y2"));
                drawing.Add(name, [transform * from, transform * to]);
                break;
            case "polyline" or "polygon":
                Polyline(xml, transform, drawing, name);
                break;
        }
    }

    private static void Polyline(XmlReader xml, Affine transform, Drawing drawing, string name)
    {
        var scanner = new NumberScanner(xml.GetAttribute("points") ?? "");
        var line = new List<Point>();
        while (!scanner.AtEnd)
        {
            drawing.Count(1);
            line.Add(transform * new Point(scanner.Number(), scanner.Number()));
        }
        if (xml.LocalName == "polygon" && line.Count > 0)
            line.Add(line[0]);
        drawing.Add(name, line);
    }

    private static double Attribute(XmlReader xml, string name)
    {
        var text = xml.GetAttribute(name);
        if (string.IsNullOrWhiteSpace(text))
            return 0;
        return double.TryParse(
            text.Replace("px", "", StringComparison.Ordinal),
            NumberStyles.Float,
            CultureInfo.InvariantCulture,
            out var value
        )
            ? value
            : throw ImportException.Unreadable($"The attribute '{name}' is not a plain number.");
    }

    /// <summary>
    /// Millimetres of one user unit: the size of the sheet over its view box, or the unit alone; a sheet without either has no unit.
    /// </summary>
    private static (double Millimetres, bool Stated) UserUnit(XmlReader xml, double assumed)
    {
        var (width, height) = (Length(xml.GetAttribute("width")), Length(xml.GetAttribute("height")));
        if (xml.GetAttribute("viewBox") is { } box)
        {
            var scanner = new NumberScanner(box);
            var (_, _, wide, high) = (scanner.Number(), scanner.Number(), scanner.Number(), scanner.Number());
            var scales = new[] { (width ?? 0) / wide, (height ?? 0) / high }.Where(s => s > 0 && double.IsFinite(s)).ToArray();
            if (scales.Length > 0)
                return (scales.Min(), true);
            return (assumed, false);
        }
        // Without a view box the user unit is the pixel of CSS, whatever the size of the sheet is given in.
        return width is null && height is null ? (assumed, false) : (Pixel, true);
    }

    private const double Pixel = Units.MillimetresPerInch / 96;

    private static readonly (string Suffix, double Millimetres)[] LengthUnits =
    [
        ("mm", 1),
        ("cm", 10),
        ("in", Units.MillimetresPerInch),
        ("pt", Units.MillimetresPerInch / 72),
        ("pc", Units.MillimetresPerInch / 6),
        ("px", Pixel),
        ("", Pixel),
    ];

    private static double? Length(string? text)
    {
        if (string.IsNullOrWhiteSpace(text) || text.Contains('%', StringComparison.Ordinal))
            return null;
        var trimmed = text.Trim();
        foreach (var (suffix, scale) in LengthUnits)
            if (
                trimmed.EndsWith(suffix, StringComparison.Ordinal)
                && double.TryParse(trimmed[..^suffix.Length], NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            )
                return value * scale;
        var shown = trimmed.Length > 20 ? trimmed[..20] : trimmed;
        throw new ImportException(Refusal.UnknownUnit, $"The size '{shown}' of the drawing has no known unit.");
    }
}
