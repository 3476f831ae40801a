namespace BackHistory.Reports.Charts.Content;

/// <summary>
/// Size of a chart in CSS pixels (1/96 inch); a PNG at scale 2 has twice as many dots each way. A chart gets higher than asked where its
/// words would leave the plot no room: <see cref="Chart.Height"/> tells.
/// </summary>
public sealed record ChartSize(int Width, int Height)
{
    /// <summary>Beside text on a desktop page, and in a printed report.</summary>
    public static ChartSize Page { get; } = new(760, 420);

    /// <summary>Full width of a phone of 390 px, less the page's margins.</summary>
    public static ChartSize Phone { get; } = new(358, 440);

    /// <summary>In a letter: narrower than its 552 px, so that the words can still be read when a phone shrinks it.</summary>
    public static ChartSize Letter { get; } = new(440, 400);
}
