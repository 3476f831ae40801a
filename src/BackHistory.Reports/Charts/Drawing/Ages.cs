using BackHistory.Reports.Charts.Content;

namespace BackHistory.Reports.Charts.Drawing;

/// <summary>Earlier is lighter, now is darkest.</summary>
internal static class Ages
{
    /// <param name="index">0 is the earliest of <paramref name="count"/>.</param>
    public static string Colour(ChartTheme theme, string now, int index, int count)
    {
        if (index == count - 1)
            return now;
        // From the second last, at the theme's strength, down to two thirds of it for the first of many.
        var back = count <= 2 ? 0 : (double)(count - 2 - index) / (count - 2);
        return theme.Thin(now, theme.EarlierStrength * (1 - back / 3));
    }

    public static float Width(int index, int count) => index == count - 1 ? 2.8f : 1.8f;
}
