using System.Globalization;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>What a page is looked at on.</summary>
public sealed record Screen(int Width, int Height, bool Touch = false, bool Dark = false)
{
    public static readonly Screen Phone = new(390, 844, Touch: true);

    public static readonly Screen Desk = new(1440, 900);

    public static Screen Of(int width) => width == Phone.Width ? Phone : Desk with { Width = width };
}

/// <summary>Pictures of what the tests saw, kept beside them for a person to look at where BACKHISTORY_PICTURES is set: every one costs
/// its moment.</summary>
internal static class Pictures
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("BACKHISTORY_PICTURES") is { Length: > 0 }
        ? Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "screenshots")).FullName
        : null;

    /// <summary>Takes the whole page.</summary>
    /// <returns>What is wrong where something of it lies beyond the right edge.</returns>
    public static async Task<string?> Keep(this IPage page, string name)
    {
        var width = page.ViewportSize!.Width;
        if (Folder is not null)
            await page.ScreenshotAsync(
                new PageScreenshotOptions
                {
                    Path = Path.Combine(Folder, string.Create(CultureInfo.InvariantCulture, $"{name}-{width}.png")),
                    FullPage = true,
                }
            );
        var wide = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
        return wide <= width ? null : string.Create(CultureInfo.InvariantCulture, $"{wide} px wide on a screen of {width} px");
    }
}
