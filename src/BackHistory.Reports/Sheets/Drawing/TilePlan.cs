using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>One page's window on the drawing; its upper left corner in the drawing's mm, y up.</summary>
internal sealed record Tile(string Name, double Left, double Top, int Column, int Row);

/// <summary>A mark that two pages share, in the drawing's mm.</summary>
internal sealed record RegistrationMark(string Letter, double X, double Y);

/// <summary>An A4 page and the window that a drawing has on it, less head and foot; mm.</summary>
internal sealed record TilePage(double PageWidth, double PageHeight)
{
    // What every printer reaches.
    public const double Left = 14;
    public const double Top = 20;

    public double Width => PageWidth - 2 * Left;

    public double Height => PageHeight - Top - 26;

    public static TilePage Landscape { get; } = new(SheetDocument.A4Long, SheetDocument.A4Short);

    public static TilePage Portrait { get; } = new(SheetDocument.A4Short, SheetDocument.A4Long);
}

/// <summary>How a drawing is spread over A4 pages that overlap, in the orientation that takes fewer.</summary>
internal sealed record TilePlan(
    TilePage Page,
    IReadOnlyList<Tile> Tiles,
    IReadOnlyList<RegistrationMark> Marks,
    double Left,
    double Right,
    double Bottom,
    double Top
)
{
    public const double Overlap = 20;

    static readonly double[] DownASeam = [0.06, 0.82];
    static readonly double[] AlongASeam = [0.2, 0.8];

    const double Air = 8;
    const double Largest = 2000;

    public static TilePlan Plan(IReadOnlyList<PlanePoint> points)
    {
        var (left, right, bottom, top) = (
            points.Min(p => p.X) - Air,
            points.Max(p => p.X) + Air,
            points.Min(p => p.Y) - Air,
            points.Max(p => p.Y) + Air
        );
        if (right - left > Largest || top - bottom > Largest)
            throw new NotDrawableException($"A curve of {right - left:F0} × {top - bottom:F0} mm is no back.");
        int Pages(TilePage page) => Count(right - left, page.Width) * Count(top - bottom, page.Height);
        var page = Pages(TilePage.Portrait) < Pages(TilePage.Landscape) ? TilePage.Portrait : TilePage.Landscape;
        return Plan(page, (left + right) / 2, top, Count(right - left, page.Width), Count(top - bottom, page.Height));
    }

    /// <summary>The drawing in the middle of the pages, from the top: the horse goes on below.</summary>
    static TilePlan Plan(TilePage page, double middle, double top, int columns, int rows)
    {
        var (across, down) = (page.Width - Overlap, page.Height - Overlap);
        var left = middle - (columns * across + Overlap) / 2;
        var tiles =
            from row in Enumerable.Range(0, rows)
            from column in Enumerable.Range(0, columns)
            select new Tile($"{(char)('A' + row)}{column + 1}", left + column * across, top - row * down, column, row);
        return new(
            page,
            [.. tiles],
            [.. MarksOf(page, left, top, columns, rows)],
            left,
            left + columns * across + Overlap,
            top - rows * down - Overlap,
            top
        );
    }

    static int Count(double length, double window) => length <= window ? 1 : (int)Math.Ceiling((length - Overlap) / (window - Overlap));

    /// <summary>Two in the middle of each overlap, far apart, so that pages can neither slide nor turn.</summary>
    static IEnumerable<RegistrationMark> MarksOf(TilePage page, double left, double top, int columns, int rows)
    {
        var (across, down) = (page.Width - Overlap, page.Height - Overlap);
        var besides =
            from row in Enumerable.Range(0, rows)
            from column in Enumerable.Range(1, columns).SkipLast(1)
            from part in DownASeam
            select (X: left + column * across + Overlap / 2, Y: top - row * down - part * page.Height);
        var below =
            from row in Enumerable.Range(1, rows).SkipLast(1)
            from column in Enumerable.Range(0, columns)
            from part in AlongASeam
            select (X: left + column * across + part * page.Width, Y: top - row * down - Overlap / 2);
        return besides.Concat(below).Select((place, i) => new RegistrationMark(Letter(i), place.X, place.Y));
    }

    static string Letter(int i) => i < 26 ? $"{(char)('a' + i)}" : $"{Letter(i / 26 - 1)}{Letter(i % 26)}";
}
