using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>The small picture of a letter: the back now, filled, and the back then as a line over it. No scale, no jargon.</summary>
public static class BackPicture
{
    /// <summary>Fits a letter of 600 px and a phone.</summary>
    public static ChartSize Size { get; } = new(300, 210);

    /// <exception cref="NotDrawableException">A curve with a value that cannot be drawn.</exception>
    public static Chart Draw(BackPictureInput input, ChartTheme theme, ChartSize size)
    {
        input.Now.Check();
        input.Then?.Check();
        var title = input.Language["back-picture.the-back-seen-from"];
        var alt = input.Then is { } then
            ? input.Language["back-picture.filled-the-line", title, input.Now.Label, then.Label]
            : $"{title}: {input.Now.Label}.";
        return new Chart(size, theme, title, alt, canvas => Draw(input, canvas));
    }

    static void Draw(BackPictureInput input, ChartCanvas canvas)
    {
        var curves = input.Then is { } then ? new[] { then, input.Now } : [input.Now];
        var view = new PlaneView(
            canvas,
            new PixelRect(0, canvas.Width, canvas.Height, 0),
            curves.SelectMany(c => c.Points),
            new PixelPadding(14, 14, 52, 10)
        );
        view.Plot.HideAxesAndGrid();
        var floor = curves.Min(c => c.Points.Min(p => p.Y));
        view.Area([new(input.Now.Points[0].X, floor), .. input.Now.Points, new(input.Now.Points[^1].X, floor)], canvas.Theme.Whole, 0.24);
        view.Line(input.Now.Points, canvas.Theme.Whole, 3f);
        if (input.Then is { } earlier)
            view.Line(earlier.Points, canvas.Theme.Muted, 2f, Dash.Mirrored);
        view.Render();
        Key(input, canvas, view.Data.Bottom);
    }

    static void Key(BackPictureInput input, ChartCanvas canvas, float top)
    {
        canvas.Text(input.Language["back-picture.left"], 14, top - 2, 12, canvas.Theme.Muted);
        canvas.Text(input.Language["back-picture.right"], canvas.Width - 14, top - 2, 12, canvas.Theme.Muted, align: Align.End);
        var y = top + 20;
        canvas.Line(14, y - 4, 36, y - 4, canvas.Theme.Whole, 3f);
        canvas.Text(input.Now.Label, 43, y, 12, canvas.Theme.ChartCanvas, Weight.Semibold);
        if (input.Then is not { } then)
            return;
        canvas.Line(14, y + 14, 36, y + 14, canvas.Theme.Muted, 2f, Dash.Mirrored);
        canvas.Text(then.Label, 43, y + 18, 12, canvas.Theme.ChartCanvas);
    }
}
