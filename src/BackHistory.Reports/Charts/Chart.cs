using BackHistory.Reports.Charts.Content;
using BackHistory.Reports.Charts.Drawing;

namespace BackHistory.Reports.Charts;

/// <summary>
/// A drawn chart. The same input gives the same bytes, whatever the culture, the thread or what was drawn before.
/// </summary>
public sealed class Chart
{
    readonly Action<ChartCanvas> draw;
    readonly ChartTheme theme;

    internal Chart(ChartSize size, ChartTheme theme, string title, string altText, Action<ChartCanvas> draw)
    {
        (Width, Height, Title, AltText) = (size.Width, size.Height, Printable.Clean(title), Printable.Clean(altText));
        (this.theme, this.draw) = (theme, draw);
    }

    /// <summary>CSS pixels.</summary>
    public int Width { get; }

    /// <summary>CSS pixels.</summary>
    public int Height { get; }

    /// <summary>The finding, as given.</summary>
    public string Title { get; }

    /// <summary>The finding and its numbers in words, for those who do not see the picture.</summary>
    public string AltText { get; }

    /// <summary>An <c>svg</c> element with a <c>viewBox</c>, a title and a description; without XML declaration, fit to stand inside a
    /// page.</summary>
    public string ToSvg() => SvgWriter.Write(Width, Height, theme, Title, AltText, draw);

    /// <param name="scale">Dots per CSS pixel, 1 to 4.</param>
    public byte[] ToPng(int scale = 2) => PngWriter.Write(Width, Height, scale, theme, draw);
}
