using System.Globalization;
using BackHistory.Reports.Charts.Content;
using ScottPlot;

namespace BackHistory.Reports.Charts.Drawing;

internal static class Colours
{
    public static Color Plain(string hex) => Color.FromHex(hex);

    public static Color Clear(string hex, double strength) => Color.FromHex(hex).WithAlpha(strength);

    /// <summary>The colour as it looks when laid thinly over the background: opaque, so that overlaps do not darken.</summary>
    public static string Thin(this ChartTheme theme, string hex, double strength)
    {
        var (r, g, b) = Parts(hex);
        var (br, bg, bb) = Parts(theme.Background);
        int Mix(int colour, int ground) => (int)Math.Round(ground + strength * (colour - ground));
        return string.Create(CultureInfo.InvariantCulture, $"#{Mix(r, br):X2}{Mix(g, bg):X2}{Mix(b, bb):X2}");
    }

    public static string Earlier(this ChartTheme theme, string hex) => theme.Thin(hex, theme.EarlierStrength);

    /// <summary>Contrast ratio of two colours, 1 to 21, as WCAG 2.2 defines it ("contrast ratio", "relative luminance").</summary>
    public static double Contrast(string one, string other)
    {
        var (a, b) = (Luminance(one), Luminance(other));
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    static double Luminance(string hex)
    {
        static double Linear(int part)
        {
            var c = part / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }
        var (r, g, b) = Parts(hex);
        return 0.2126 * Linear(r) + 0.7152 * Linear(g) + 0.0722 * Linear(b);
    }

    static (int R, int G, int B) Parts(string hex)
    {
        int At(int i) => int.Parse(hex.AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return (At(1), At(3), At(5));
    }
}
