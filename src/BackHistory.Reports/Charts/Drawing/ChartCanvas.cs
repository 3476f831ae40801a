using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Fonts;
using ScottPlot;
using SkiaSharp;

namespace BackHistory.Reports.Charts.Drawing;

internal enum Align
{
    Start,
    Middle,
    End,
}

/// <summary>A visit in the picture: its pixels, its values, and its words.</summary>
internal sealed record Spot(float X, float Y, DateOnly On, SeriesSide Side, double Value, double Sd, string Words);

/// <summary>A canvas with the theme's colours and the reports' font: what stands around and on top of the plots. Pixels, y down.</summary>
internal sealed class ChartCanvas
{
    const float Edge = 4;

    readonly SKCanvas canvas;

    public ChartCanvas(SKCanvas canvas, ChartTheme theme, float width, float height, bool vector)
    {
        ReportFonts.Register();
        (this.canvas, Theme, Width, Height, Vector) = (canvas, theme, width, height, vector);
        Fill(new PixelRect(0, width, height, 0), theme.Background);
    }

    public ChartTheme Theme { get; }

    public float Width { get; }

    public float Height { get; }

    /// <summary>Drawing for SVG, not for dots.</summary>
    public bool Vector { get; }

    /// <summary>Places that a page can point at; only SVG carries them.</summary>
    public List<Spot> Spots { get; } = [];

    /// <summary>Draws a plot once: the first call to a plot draws twice (the layout may change by drawing), so that one goes to a canvas
    /// of nothing.</summary>
    public void Plot(Plot plot, PixelRect place)
    {
        using var nothing = new SKNWayCanvas((int)Width, (int)Height);
        plot.Render(nothing, place);
        plot.Render(canvas, place);
    }

    /// <summary>Text that stays inside the picture: moved in from the edge, and set smaller where it is wider than all of it.</summary>
    public void Text(
        string text,
        float x,
        float baseline,
        float size,
        string colour,
        Weight weight = Weight.Regular,
        Align align = Align.Start,
        float halo = 0
    )
    {
        var clean = Printable.Clean(text);
        if (clean.Length == 0)
            return;
        var room = Width - 2 * Edge;
        var width = Lettering.Width(clean, size, weight);
        if (width > room)
            (size, width) = (size * room / width, room);
        var shift = align switch
        {
            Align.Middle => width / 2,
            Align.End => width,
            _ => 0,
        };
        using var font = Lettering.Font(size, weight);
        using var paint = Paint(colour);
        if (halo > 0)
            (paint.Style, paint.StrokeWidth, paint.StrokeJoin) = (SKPaintStyle.Stroke, halo, SKStrokeJoin.Round);
        canvas.DrawText(clean, Math.Clamp(x - shift, Edge, Math.Max(Edge, Width - Edge - width)), baseline, font, paint);
    }

    /// <summary>Text with a halo of background, so that it can be read over lines.</summary>
    public void Label(
        string text,
        float x,
        float baseline,
        float size,
        string colour,
        Weight weight = Weight.Regular,
        Align align = Align.Start
    )
    {
        Text(text, x, baseline, size, Theme.Background, weight, align, halo: 4);
        Text(text, x, baseline, size, colour, weight, align);
    }

    public void Line(float x1, float y1, float x2, float y2, string colour, float width = 1, Dash? dash = null)
    {
        using var path = new SKPath();
        path.MoveTo(x1, y1);
        path.LineTo(x2, y2);
        Stroke(path, colour, width, dash);
    }

    public void Curve(IReadOnlyList<Pixel> points, string colour, float width = 1, Dash? dash = null)
    {
        using var path = new SKPath();
        path.AddPoly([.. points.Select(p => new SKPoint(p.X, p.Y))], close: false);
        Stroke(path, colour, width, dash);
    }

    void Stroke(SKPath path, string colour, float width, Dash? dash)
    {
        using var paint = Paint(colour);
        (paint.Style, paint.StrokeWidth) = (SKPaintStyle.Stroke, width);
        dash?.Apply(paint, Vector);
        canvas.DrawPath(path, paint);
    }

    public void Fill(PixelRect place, string colour, double strength = 1)
    {
        using var paint = Paint(colour, strength);
        canvas.DrawRect(place.ToSKRect(), paint);
    }

    public void Dot(float x, float y, float radius, string colour)
    {
        using var paint = Paint(colour);
        canvas.DrawCircle(x, y, radius, paint);
    }

    public void Square(float x, float y, float half, string colour) => Fill(new PixelRect(x - half, x + half, y + half, y - half), colour);

    public void Shape(IReadOnlyList<Pixel> corners, string colour, double strength = 1)
    {
        using var path = new SKPath();
        path.AddPoly([.. corners.Select(p => new SKPoint(p.X, p.Y))]);
        using var paint = Paint(colour, strength);
        canvas.DrawPath(path, paint);
    }

    static SKPaint Paint(string colour, double strength = 1) =>
        new() { Color = SKColor.Parse(colour).WithAlpha((byte)Math.Round(255 * strength)), IsAntialias = true };
}
