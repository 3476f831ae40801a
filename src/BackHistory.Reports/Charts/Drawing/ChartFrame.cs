using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Fonts;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>One sample of the key: how a series looks, and its name. The sample is drawn left of x, around y.</summary>
internal sealed record KeyEntry(string Text, Action<ChartCanvas, float, float> Sample)
{
    public const float SampleWidth = 28;
}

/// <summary>What stands around the plots: the finding on top, what is shown under it, the key, and the note at the foot.</summary>
internal static class ChartFrame
{
    public const float Margin = 16;
    const float TitleSize = 18;
    const float TextSize = 13;
    const float NoteSize = 11.5f;

    /// <summary>The size asked for, or higher where the words above the plot would leave it less than <paramref name="body"/>
    /// pixels.</summary>
    public static ChartSize Room(ChartSize size, ChartTheme theme, string finding, string subject, IReadOnlyList<KeyEntry> key, float body)
    {
        using var nothing = new SkiaSharp.SKNWayCanvas(size.Width, size.Height);
        var below = Heading(new ChartCanvas(nothing, theme, size.Width, size.Height, vector: false), finding, subject, key);
        return size with { Height = Math.Max(size.Height, (int)Math.Ceiling(below + body)) };
    }

    /// <summary>Draws finding, subject and key; returns the y below them.</summary>
    public static float Heading(ChartCanvas canvas, string finding, string subject, IReadOnlyList<KeyEntry> key)
    {
        var room = canvas.Width - 2 * Margin;
        var titleSize = canvas.Width < 480 ? 16 : TitleSize;
        var y = 8f;
        foreach (var line in Lettering.Balance(finding, room, titleSize, Weight.Semibold))
            canvas.Text(line, Margin, y += titleSize * 1.3f, titleSize, canvas.Theme.ChartCanvas, Weight.Semibold);
        y += 3;
        foreach (var line in Lettering.Wrap(subject, room, TextSize))
            canvas.Text(line, Margin, y += TextSize * 1.35f, TextSize, canvas.Theme.Muted);
        return Key(canvas, key, y) + 12;
    }

    static float Key(ChartCanvas canvas, IReadOnlyList<KeyEntry> key, float y)
    {
        if (key.Count == 0)
            return y;
        y += 24;
        var x = Margin;
        foreach (var entry in key)
        {
            var width = KeyEntry.SampleWidth + 8 + Lettering.Width(Printable.Clean(entry.Text), TextSize) + 20;
            if (x > Margin && x + width - 20 > canvas.Width - Margin)
                (x, y) = (Margin, y + 20);
            entry.Sample(canvas, x, y - 4.5f);
            canvas.Text(entry.Text, x + KeyEntry.SampleWidth + 8, y, TextSize, canvas.Theme.ChartCanvas);
            x += width;
        }
        return y;
    }

    /// <summary>Draws the note at the foot; returns the y above it.</summary>
    public static float Note(ChartCanvas canvas, string note)
    {
        var lines = Lettering.Wrap(note, canvas.Width - 2 * Margin, NoteSize);
        var top = canvas.Height - 12 - lines.Count * NoteSize * 1.35f;
        for (var i = 0; i < lines.Count; i++)
            canvas.Text(lines[i], Margin, top + (i + 1) * NoteSize * 1.35f - 3, NoteSize, canvas.Theme.Muted);
        return lines.Count == 0 ? canvas.Height - 12 : top - 6;
    }

    public static KeyEntry SideKey(SeriesSide side, string text) =>
        new(
            text,
            (canvas, x, y) =>
            {
                var colour = canvas.Theme.ColourOf(side);
                canvas.Line(x, y, x + KeyEntry.SampleWidth, y, colour, 2.5f, Dash.DashFor(side));
                if (side == SeriesSide.Right)
                    canvas.Square(x + KeyEntry.SampleWidth / 2, y, 4, colour);
                else
                    canvas.Dot(x + KeyEntry.SampleWidth / 2, y, 4.5f, colour);
            }
        );

    /// <summary>Says in the middle of the picture that there is nothing to draw.</summary>
    public static void Empty(ChartCanvas canvas, PixelRect place, string sentence)
    {
        var lines = Lettering.Wrap(sentence, place.Width - 40, TextSize);
        for (var i = 0; i < lines.Count; i++)
            canvas.Text(lines[i], place.HorizontalCenter, place.VerticalCenter + i * 18, TextSize, canvas.Theme.Muted, align: Align.Middle);
    }
}
