using BackHistory.Reports.Charts.Content;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>A plot in millimetres with one scale on both axes: what is round on the horse is round in the picture.</summary>
internal sealed class PlaneView
{
    readonly ChartCanvas canvas;
    readonly PixelRect place;
    readonly PixelRect data;
    readonly CoordinateRect limits;

    public PlaneView(ChartCanvas canvas, PixelRect place, IEnumerable<PlanePoint> points, PixelPadding padding, bool centred = false)
    {
        (this.canvas, this.place) = (canvas, place);
        data = new PixelRect(
            place.Left + padding.Left,
            place.Right - padding.Right,
            place.Bottom - padding.Bottom,
            place.Top + padding.Top
        );
        limits = Fit(points.ToList(), data, centred);
        Plot = PlotLook.New(canvas.Theme);
        Plot.Axes.SetLimits(limits.Left, limits.Right, limits.Bottom, limits.Top);
        Plot.Layout.Fixed(padding);
    }

    public Plot Plot { get; }

    public PixelRect Data => data;

    /// <summary>CSS pixels per millimetre.</summary>
    public double Scale => data.Width / (limits.Right - limits.Left);

    static CoordinateRect Fit(List<PlanePoint> points, PixelRect data, bool centred)
    {
        var (left, right, low, high) = (points.Min(p => p.X), points.Max(p => p.X), points.Min(p => p.Y), points.Max(p => p.Y));
        var air = Math.Max(right - left, high - low) * 0.04 + 1;
        (left, right, low, high) = (left - air, right + air, low - air, high + air);
        var perPixel = Math.Max((right - left) / data.Width, (high - low) / data.Height);
        var (x, width) = ((left + right) / 2, perPixel * data.Width);
        // Spare height is left below, where the horse goes on, or on both sides.
        if (centred)
            high += (perPixel * data.Height - (high - low)) / 2;
        return new CoordinateRect(x - width / 2, x + width / 2, high - perPixel * data.Height, high);
    }

    public Pixel At(double x, double y) =>
        new(
            (float)(data.Left + (x - limits.Left) / (limits.Right - limits.Left) * data.Width),
            (float)(data.Bottom - (y - limits.Bottom) / (limits.Top - limits.Bottom) * data.Height)
        );

    public Pixel At(PlanePoint point) => At(point.X, point.Y);

    /// <summary>Grid lines at round heights and places of the unit, labelled by what <paramref name="across"/> and <paramref name="up"/>
    /// show of them; null = no label.</summary>
    public void Grid(PlaneUnit unit, ReportLanguage language, Func<double, double?> across, Func<double, double?> up)
    {
        var wanted = (limits.Right - limits.Left) / (data.Width / 70) / unit.Millimetres;
        var step = unit.Steps.FirstOrDefault(s => s >= wanted, unit.Steps[^1]);
        string Label(double? value, bool sign) =>
            value is not { } v ? "" : Words.WithUnit(language.Number(v, step < 1 ? 1 : 0), sign && v == 0 ? unit.Sign : "");
        Plot.Axes.Bottom.TickGenerator = Manual(limits.Left, limits.Right, step, unit.Millimetres, x => Label(across(x), false));
        Plot.Axes.Left.TickGenerator = Manual(limits.Bottom, limits.Top, step, unit.Millimetres, y => Label(up(y), true));
        Plot.Grid.XAxisStyle.IsVisible = true;
        Plot.Axes.Bottom.FrameLineStyle.Width = 0;
        Plot.Axes.Bottom.MajorTickStyle.Length = 0;
    }

    static ScottPlot.TickGenerators.NumericManual Manual(double low, double high, double step, double unit, Func<double, string> label)
    {
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        for (var i = Math.Ceiling(low / unit / step); i <= Math.Floor(high / unit / step); i++)
            ticks.AddMajor(i * step * unit, label(i * step));
        return ticks;
    }

    public void Area(IEnumerable<PlanePoint> corners, string colour, double strength)
    {
        var area = Plot.Add.Polygon([.. corners.Select(p => new Coordinates(p.X, p.Y))]);
        (area.FillColor, area.LineWidth, area.MarkerSize) = (Colours.Clear(colour, strength), 0, 0);
    }

    public void Line(IEnumerable<PlanePoint> points, string colour, float width, Dash? dash = null)
    {
        var line = Plot.Add.ScatterLine(points.Select(p => new Coordinates(p.X, p.Y)).ToArray(), Colours.Plain(colour));
        line.LineWidth = width;
        dash?.Apply(line.LineStyle, canvas.Vector);
    }

    public void Render() => canvas.Plot(Plot, place);

    /// <summary>A gap is dotted from end to end, with its length beside it.</summary>
    public void Gap(CurveGap gap, ReportLanguage language)
    {
        var (from, to) = (At(gap.From), At(gap.To));
        canvas.Line(from.X, from.Y, to.X, to.Y, canvas.Theme.Muted, 2, Dash.Threshold);
        var length = Math.Sqrt(Math.Pow(gap.To.X - gap.From.X, 2) + Math.Pow(gap.To.Y - gap.From.Y, 2));
        var left = gap.From.X + gap.To.X < 0;
        canvas.Label(
            $"{language["plane-view.gap"]} {language.Number(length, 0)}\u00a0mm",
            (from.X + to.X) / 2 + (left ? 10 : -10),
            (from.Y + to.Y) / 2 + 16,
            11.5f,
            canvas.Theme.Muted,
            align: left ? Align.Start : Align.End
        );
    }
}
