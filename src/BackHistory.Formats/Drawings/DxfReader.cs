using System.Globalization;
using System.Text;
using BackHistory.Shape;

namespace BackHistory.Formats.Drawings;

/// <summary>
/// Lines of an ASCII DXF drawing: LINE, ARC, LWPOLYLINE, POLYLINE and SPLINE of its ENTITIES section, joined where their ends meet. Units
/// from $INSUNITS.
/// </summary>
internal sealed class DxfReader
{
    private readonly Drawing drawing;
    private readonly List<(string Layer, List<Point> Points)> pieces = [];

    private DxfReader(Drawing drawing) => this.drawing = drawing;

    internal static bool Read(ReadOnlyMemory<byte> file, double assumedMillimetres, Drawing drawing)
    {
        if (file.Span.StartsWith("AutoCAD Binary DXF"u8))
            throw ImportException.Unreadable("Binary DXF is not read: save the drawing as ASCII DXF.");
        var (groups, reader) = (new DxfGroups(file, drawing), new DxfReader(drawing));
        double? unit = null;
        string section = "",
            variable = "";
        for (var group = groups.Next(); group is { } g; group = groups.Next())
        {
            if (g.Code == 0 && g.Text == "EOF")
                break;
            if (g.Code == 2 && groups.Previous is { Code: 0, Text: "SECTION" })
                section = g.Text;
            else if (g.Code == 9)
                variable = g.Text;
            else if (section == "HEADER" && variable == "$INSUNITS" && g.Code == 70)
                unit = Unit(g.Text);
            else if (section == "ENTITIES" && g.Code == 0)
                reader.Entity(g.Text, groups);
        }
        if (section.Length == 0)
            throw ImportException.Unreadable("The file is not a DXF drawing.");
        reader.Finish(unit ?? assumedMillimetres);
        return unit is not null;
    }

    private static double? Unit(string code) =>
        code.Trim() switch
        {
            "0" => null,
            "1" => Units.MillimetresPerInch,
            "2" => 12 * Units.MillimetresPerInch,
            "4" => 1,
            "5" => 10,
            "6" => 1000,
            var other => throw new ImportException(Refusal.UnknownUnit, $"The drawing's unit ($INSUNITS {other}) is not known."),
        };

    private void Entity(string type, DxfGroups groups)
    {
        if (type is not ("LINE" or "ARC" or "LWPOLYLINE" or "POLYLINE" or "SPLINE"))
            return;
        var entity = groups.Entity();
        var points = type switch
        {
            "LINE" => DxfEntities.Line(entity),
            "ARC" => DxfEntities.Arc(entity, drawing),
            "LWPOLYLINE" => DxfEntities.LightPolyline(entity, drawing),
            "POLYLINE" => DxfEntities.Polyline(entity, groups, drawing),
            _ => DxfSpline.Points(entity, drawing),
        };
        drawing.Count(points.Count);
        if (points.Count > 1)
            pieces.Add((entity.Text(8) ?? "", points));
    }

    private void Finish(double scale)
    {
        foreach (var (layer, points) in PieceJoin.Join(pieces, 0.05 / scale))
            drawing.Add(layer, points.ConvertAll(p => scale * p));
    }
}

/// <summary>One pair of a DXF file: what it means, and its text.</summary>
internal readonly record struct DxfGroup(int Code, string Text)
{
    internal double Number =>
        double.TryParse(Text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ImportException.Unreadable($"The drawing has '{(Text.Length > 20 ? Text[..20] : Text)}' where a number is due.");
}

/// <summary>The pairs of a DXF file, with one pair of look-ahead so that an entity ends before the next begins.</summary>
internal sealed class DxfGroups(ReadOnlyMemory<byte> file, Drawing drawing) : IDisposable
{
    private readonly StringReader lines = new(Encoding.Latin1.GetString(file.Span));
    private DxfGroup? ahead;

    internal DxfGroup? Previous { get; private set; }
    private DxfGroup? current;

    public void Dispose() => lines.Dispose();

    internal DxfGroup? Next()
    {
        Previous = current;
        current = ahead ?? Read();
        ahead = null;
        return current;
    }

    private DxfGroup? Read()
    {
        drawing.Breathe();
        if (lines.ReadLine() is not { } code)
            return null;
        if (string.IsNullOrWhiteSpace(code) && lines.Peek() < 0)
            return null;
        if (lines.ReadLine() is not { } text)
            throw ImportException.Unreadable("The drawing breaks off in the middle of a pair.");
        if (!int.TryParse(code, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number))
            throw ImportException.Unreadable("The file is not an ASCII DXF drawing.");
        return new DxfGroup(number, text.Trim());
    }

    /// <summary>The groups of the entity that has just begun.</summary>
    internal DxfEntity Entity()
    {
        var groups = new List<DxfGroup>();
        while (Next() is { } group)
        {
            if (group.Code == 0)
            {
                ahead = group;
                break;
            }
            // Seven groups a point at most, knots and weights among them.
            if ((groups.Count & 7) == 7)
                drawing.Count(1);
            groups.Add(group);
        }
        return new DxfEntity(groups);
    }

    internal string? NextEntity() => (ahead ??= Read()) is { Code: 0 } next ? next.Text : null;
}
