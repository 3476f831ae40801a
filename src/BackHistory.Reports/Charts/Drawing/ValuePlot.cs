using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>A plot of one number against another, both axes named in words.</summary>
internal sealed class ValuePlot
{
    const float NameSize = 12;

    readonly ChartCanvas canvas;
    readonly PixelRect place;
    readonly (double Low, double High) across;
    readonly (double Low, double High) up;

    public ValuePlot(
        ChartCanvas canvas,
        PixelRect place,
        (double Low, double High) across,
        (double Low, double High) up,
        Names names,
        ReportLanguage language
    )
    {
        (this.canvas, this.place, this.across, this.up) = (canvas, place, across, up);
        Plot = PlotLook.New(canvas.Theme);
        var gutter = PlotLook.ValueAxis(Plot, up.Low, up.High, names.UpUnit, language, place.Height - 70);
        Data = new PixelRect(ChartFrame.Margin + gutter, canvas.Width - ChartFrame.Margin - 8, place.Bottom - 44, place.Top + 22);
        Plot.Layout.Fixed(new PixelPadding(Data.Left, canvas.Width - Data.Right, place.Bottom - Data.Bottom, Data.Top - place.Top));
        Plot.Axes.SetLimitsX(across.Low, across.High);
        if (names.AcrossUnit is { } unit)
            Across(unit, language);
        canvas.Text(names.Up, ChartFrame.Margin, place.Top + 8, NameSize, canvas.Theme.Muted);
        canvas.Text(names.Across, Data.Right, place.Bottom - 6, NameSize, canvas.Theme.Muted, align: Align.End);
    }

    /// <param name="AcrossUnit">Null leaves the ticks of the horizontal axis to the caller.</param>
    public sealed record Names(string Across, string? AcrossUnit, string Up, string UpUnit);

    public Plot Plot { get; }

    public PixelRect Data { get; }

    void Across(string unit, ReportLanguage language)
    {
        var (values, decimals) = Ticks.Values(across.Low, across.High, Math.Max(2, (int)(Data.Width / 80)));
        string[] labels = [.. values.Select(v => language.Number(v, decimals))];
        if (labels.Length > 0)
            labels[^1] = Words.WithUnit(labels[^1], unit);
        Plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual(values, labels);
    }

    public Pixel At(double x, double y) =>
        new(
            (float)(Data.Left + (x - across.Low) / (across.High - across.Low) * Data.Width),
            (float)(Data.Bottom - (y - up.Low) / (up.High - up.Low) * Data.Height)
        );

    public void Level(double y, string colour, float width, Dash? dash = null)
    {
        var line = Plot.Add.HorizontalLine(y, width, Colours.Plain(colour), LinePattern.Solid);
        dash?.Apply(line.LineStyle, canvas.Vector);
    }

    public void Curve(IEnumerable<(double X, double Y)> points, string colour, float width, Dash? dash = null)
    {
        var line = Plot.Add.ScatterLine(points.Select(p => new Coordinates(p.X, p.Y)).ToArray(), Colours.Plain(colour));
        line.LineWidth = width;
        dash?.Apply(line.LineStyle, canvas.Vector);
    }

    public void Points(IEnumerable<(double X, double Y)> points, string colour, float size, MarkerShape shape = MarkerShape.FilledCircle)
    {
        var marks = Plot.Add.ScatterPoints(points.Select(p => new Coordinates(p.X, p.Y)).ToArray(), Colours.Plain(colour));
        marks.MarkerStyle = new MarkerStyle(shape, size, Colours.Plain(colour))
        {
            OutlineColor = Colours.Plain(canvas.Theme.Background),
            OutlineWidth = 1.5f,
        };
    }

    public void Render() => canvas.Plot(Plot, place);
}
