using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;
using ScottPlot;

namespace BackHistory.Reports.Charts;

/// <summary>Where a back gained and lost since an earlier date, seen from above, head to the left. In the colours of the surface that
/// turns.</summary>
public static class ChangeMapChart
{
    const string Less = "#D55E00",
        None = "#E9E4D8",
        More = "#0072B2",
        Unknown = "#9A948A";

    /// <exception cref="NotDrawableException">No place, or a value that cannot be drawn.</exception>
    public static Chart Draw(ChangeMapChartInput input, ChartTheme theme, ChartSize size)
    {
        input.Check();
        return new Chart(
            ChartFrame.Room(size, theme, input.Finding, input.Subject, Key(input), 240),
            theme,
            input.Finding,
            AltText(input),
            canvas => Draw(input, canvas)
        );
    }

    static void Draw(ChangeMapChartInput input, ChartCanvas canvas)
    {
        var (language, unit) = (input.Language, PlaneUnit.For(input.Lengths));
        var top = ChartFrame.Heading(canvas, input.Finding, input.Subject, Key(input));
        var bottom = ChartFrame.Note(canvas, language["change-map.seen-from-above-head", unit.Name(language)]);
        // The horse's right is drawn upwards: from above, with the head to the left, it lies there.
        var view = new PlaneView(
            canvas,
            new PixelRect(0, canvas.Width, bottom, top),
            input.Spots.Select(s => new PlanePoint(s.Along, s.Across)),
            new PixelPadding(ChartFrame.Margin + 44, ChartFrame.Margin, 24, 38),
            centred: true
        );
        view.Grid(unit, language, x => x, y => Math.Abs(y));
        Cells(input, view.Plot);
        view.Line([new(input.Spots.Min(s => s.Along), 0), new(input.Spots.Max(s => s.Along), 0)], canvas.Theme.ChartCanvas, 1f);
        var (low, high) = (input.Spots.Min(s => s.Across), input.Spots.Max(s => s.Across));
        foreach (var (_, at) in input.Stations)
            view.Line([new(at, low), new(at, high)], canvas.Theme.ChartCanvas, 1f, Dash.Mirrored);
        view.Render();
        // Neighbours stand close: every second name goes into a row of its own, above, since the distances stand below.
        foreach (var (i, (name, at)) in input.Stations.OrderBy(s => s.At).Index())
            canvas.Label(
                name,
                view.At(at, high).X,
                view.At(at, high).Y - (i % 2 == 0 ? 6 : 20),
                11.5f,
                canvas.Theme.ChartCanvas,
                align: Align.Middle
            );
        canvas.Label(language["change-map.right"], view.Data.Left + 6, view.Data.Top + 14, 12, canvas.Theme.Muted);
        canvas.Label(language["change-map.left"], view.Data.Left + 6, view.Data.Bottom - 6, 12, canvas.Theme.Muted);
    }

    /// <summary>The places gathered into squares, so that every square of the back holds one at least.</summary>
    static void Cells(ChangeMapChartInput input, Plot plot)
    {
        var side = input.StepMm * 1.5;
        var (left, low) = (input.Spots.Min(s => s.Along), input.Spots.Min(s => s.Across));
        var columns = (int)((input.Spots.Max(s => s.Along) - left) / side) + 1;
        var rows = (int)((input.Spots.Max(s => s.Across) - low) / side) + 1;
        var (sums, counts, missing) = (new double[rows, columns], new int[rows, columns], new bool[rows, columns]);
        foreach (var spot in input.Spots)
        {
            var (row, column) = (rows - 1 - (int)((spot.Across - low) / side), (int)((spot.Along - left) / side));
            if (spot.Change is not { } change)
                missing[row, column] = true;
            else
                (sums[row, column], counts[row, column]) = (sums[row, column] + change, counts[row, column] + 1);
        }

        var (known, unknown) = (new double[rows, columns], new double[rows, columns]);
        for (var r = 0; r < rows; r++)
        for (var c = 0; c < columns; c++)
        {
            known[r, c] = counts[r, c] > 0 ? Math.Clamp(sums[r, c] / counts[r, c], -input.SpanMm, input.SpanMm) : double.NaN;
            unknown[r, c] = counts[r, c] == 0 && missing[r, c] ? 0 : double.NaN;
        }

        var place = new CoordinateRect(left, left + columns * side, low, low + rows * side);
        Add(plot, unknown, place, input.SpanMm, Unknown, Unknown, Unknown);
        Add(plot, known, place, input.SpanMm, Less, None, More);
    }

    static void Add(Plot plot, double[,] values, CoordinateRect place, double span, params string[] colours)
    {
        // A heat map of no cell has no range, and ScottPlot refuses it: a back that was traced whole on both dates has nothing unknown.
        if (values.Cast<double>().All(double.IsNaN))
            return;
        var map = plot.Add.Heatmap(values);
        map.Colormap = new ScottPlot.Colormaps.CustomInterpolated([.. colours.Select(Colours.Plain)]);
        map.ManualRange = new ScottPlot.Range(-span, span);
        map.NaNCellColor = ScottPlot.Colors.Transparent;
        map.Rectangle = place;
    }

    static KeyEntry[] Key(ChangeMapChartInput input)
    {
        var span = PlaneUnit.For(input.Lengths).Size(input.SpanMm, input.Language);
        return
        [
            Sample(Less, input.Language["change-map.less-horse", span]),
            Sample(None, input.Language["change-map.no-change"]),
            Sample(More, input.Language["change-map.more-horse", span]),
        ];
    }

    static KeyEntry Sample(string colour, string text) =>
        new(text, (canvas, x, y) => canvas.Line(x, y, x + KeyEntry.SampleWidth, y, colour, 10));

    static string AltText(ChangeMapChartInput input)
    {
        var known = input.Spots.Where(s => s.Change is not null).Select(s => s.Change!.Value).ToList();
        string Size(double change) => PlaneUnit.For(input.Lengths).Size(change, input.Language, 1);
        var far = known.Count == 0 ? "" : input.Language["change-map.from-to", Size(known.Min()), Size(known.Max())];
        return input.Language["change-map.map-of-the-change", input.Finding, far];
    }
}
