using BackHistory.Reports.Charts.Content;
using ScottPlot;
using SkiaSharp;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>A broken line.</summary>
/// <param name="Lengths">Pixels on, off, on, off.</param>
/// <param name="Code"> The SVG canvas cannot write a dash: it turns each stroke of it into a polygon. A drawing for SVG therefore leaves
/// the line whole and carries this number as its mitre limit, by which <see cref="SvgWriter"/> knows the line again and writes a
/// <c>stroke-dasharray</c>.
/// </param>
internal sealed record Dash(float[] Lengths, int Code)
{
    public static readonly Dash Right = new([7, 4], 101);
    public static readonly Dash Threshold = new([1.5f, 3.5f], 102);
    public static readonly Dash Mirrored = new([3, 3], 103);

    public static readonly Dash Limit = new([9, 3, 2, 3], 104);

    public static readonly IReadOnlyList<Dash> All = [Right, Threshold, Mirrored, Limit];

    public static Dash? DashFor(SeriesSide side) => side == SeriesSide.Right ? Right : null;

    public void Apply(SKPaint paint, bool vector)
    {
        if (vector)
            (paint.StrokeJoin, paint.StrokeMiter) = (SKStrokeJoin.Miter, Code);
        else
            paint.PathEffect = SKPathEffect.CreateDash(Lengths, 0);
    }

    public void Apply(LineStyle line, bool vector)
    {
        if (vector)
            (line.StrokeJoin, line.StrokeMiter) = (SKStrokeJoin.Miter, Code);
        else
            line.Pattern = new LinePattern(Lengths, 0, "dash");
    }
}
