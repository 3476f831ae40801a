namespace BackHistory.Service.Components;

/// <summary>A size in CSS pixels for the screens that a media query names.</summary>
public sealed record ChartShape(string Media, int Width, int Height)
{
    /// <summary>Telephones: narrower and taller.</summary>
    public static ChartShape Narrow(int width, int height) => new("(max-width: 40rem)", width, height);

    /// <summary>Where there is room for the whole width of a page.</summary>
    public static ChartShape Wide(int width, int height) => new("(min-width: 62rem)", width, height);
}
