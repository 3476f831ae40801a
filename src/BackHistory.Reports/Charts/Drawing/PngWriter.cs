using BackHistory.Reports.Charts.Content;
using SkiaSharp;

namespace BackHistory.Reports.Charts.Drawing;

internal static class PngWriter
{
    public static byte[] Write(int width, int height, int scale, ChartTheme theme, Action<ChartCanvas> draw)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(scale, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scale, 4);
        using var surface = SKSurface.Create(new SKImageInfo(width * scale, height * scale, SKColorType.Rgba8888, SKAlphaType.Premul));
        surface.Canvas.Scale(scale);
        draw(new ChartCanvas(surface.Canvas, theme, width, height, vector: false));
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }
}
