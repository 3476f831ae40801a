using SkiaSharp;

namespace BackHistory.Reports.Tests.Charts;

/// <summary>Reads drawn pictures back.</summary>
static class Pixels
{
    public static int Count(SKImage image, Func<byte, byte, byte, bool> wanted)
    {
        using var bitmap = SKBitmap.FromImage(image);
        return Enumerable.Range(0, bitmap.Height).Sum(y => Enumerable.Range(0, bitmap.Width).Count(x => Is(bitmap, x, y, wanted)));
    }

    /// <summary>The dots near a colour, as (x, y), for a PNG.</summary>
    public static List<(int X, int Y)> Near(byte[] png, string hex, int within = 24)
    {
        var colour = SKColor.Parse(hex);
        using var bitmap = SKBitmap.Decode(png);
        return
        [
            .. from y in Enumerable.Range(0, bitmap.Height)
            from x in Enumerable.Range(0, bitmap.Width)
            where
                Is(
                    bitmap,
                    x,
                    y,
                    (r, g, b) =>
                        Math.Abs(r - colour.Red) <= within && Math.Abs(g - colour.Green) <= within && Math.Abs(b - colour.Blue) <= within
                )
            select (x, y),
        ];
    }

    public static (int Width, int Height) Size(byte[] png)
    {
        using var bitmap = SKBitmap.Decode(png);
        return (bitmap.Width, bitmap.Height);
    }

    static bool Is(SKBitmap bitmap, int x, int y, Func<byte, byte, byte, bool> wanted)
    {
        var colour = bitmap.GetPixel(x, y);
        return wanted(colour.Red, colour.Green, colour.Blue);
    }
}
