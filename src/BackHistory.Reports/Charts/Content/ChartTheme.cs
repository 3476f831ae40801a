namespace BackHistory.Reports.Charts.Content;

/// <summary>
/// The colours of a chart, as <c>#RRGGBB</c>. Left, right and the alarm hues are from the palette for colour-blind readers of Okabe &amp;
/// Ito, "Color Universal Design" (2008): blue #0072B2, vermillion #D55E00, sky blue #56B4E9, orange #E69F00, bluish green #009E73,
/// reddish purple #CC79A7. Hue never carries a meaning alone: left is solid with round marks, right is dashed with square marks; earlier
/// is lighter, now darkest.
/// </summary>
public sealed record ChartTheme
{
    public required string Background { get; init; }

    /// <summary>Text and the baseline.</summary>
    public required string ChartCanvas { get; init; }

    /// <summary>Secondary text.</summary>
    public required string Muted { get; init; }

    public required string Grid { get; init; }

    /// <summary>The horse's left, now.</summary>
    public required string Left { get; init; }

    /// <summary>The horse's right, now.</summary>
    public required string Right { get; init; }

    /// <summary>A measure that has no side.</summary>
    public required string Whole { get; init; }

    /// <summary>Thresholds and what lies beyond them.</summary>
    public required string Threshold { get; init; }

    public required string LayOff { get; init; }

    public required string Illness { get; init; }

    public required string Work { get; init; }

    /// <summary>How much of a colour is left in its lighter, earlier form, 0–1.</summary>
    public double EarlierStrength { get; init; } = 0.62;

    /// <summary>How much of a colour is left in a shaded band, 0–1.</summary>
    public double BandStrength { get; init; } = 0.20;

    public static ChartTheme Light { get; } =
        new()
        {
            Background = "#FFFFFF",
            ChartCanvas = "#1D2429",
            Muted = "#59646C",
            Grid = "#E4E7E9",
            Left = "#0072B2",
            Right = "#D55E00",
            Whole = "#2B4B5F",
            Threshold = "#A8447F",
            LayOff = "#8A8F94",
            Illness = "#CC79A7",
            Work = "#009E73",
        };

    public static ChartTheme Dark { get; } =
        new()
        {
            Background = "#15191C",
            ChartCanvas = "#EEF1F2",
            Muted = "#A9B3B9",
            Grid = "#2B3237",
            Left = "#56B4E9",
            Right = "#E69F00",
            Whole = "#B9D3E0",
            Threshold = "#E39CC4",
            LayOff = "#9AA1A7",
            Illness = "#CC79A7",
            Work = "#2FB98F",
            EarlierStrength = 0.58,
            BandStrength = 0.26,
        };

    internal string Of(Side side) =>
        side switch
        {
            Side.Left => Left,
            Side.Right => Right,
            _ => Whole,
        };
}
