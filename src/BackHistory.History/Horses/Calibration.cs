using System.Globalization;
using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>
/// How a picture became millimetres, kept with its tracing so that the scale can be judged, and the tracing laid over its picture again,
/// years later.
/// </summary>
/// <param name="Width">Of the picture as it was traced, pixels.</param>
/// <param name="Height">As the width.</param>
/// <param name="Known">The points whose place on the paper was known.</param>
/// <param name="Residual">
/// Root mean square distance of the known points from where the map through them puts them, millimetres; null where there was no point to
/// spare.
/// </param>
/// <param name="Picture">SHA-256 of the picture's file, as it is kept where the picture was attached.</param>
public sealed record Calibration(int Width, int Height, IReadOnlyList<KnownPoint> Known, double? Residual, string? Picture)
{
    private const int MostKnown = 40;

    internal Refused? Check()
    {
        if (!Plausible.PictureSide.Holds(Width) || !Plausible.PictureSide.Holds(Height))
            return Bad($"the picture is said to have {Width} × {Height} pixels");
        if (Known.Count is < 2 or > MostKnown)
            return Bad($"it names {Known.Count} known points; 2 to {MostKnown} make a scale");
        if (Known.Contains(null!))
            return Bad("one of its known points is null");
        if (Known.FirstOrDefault(k => !Within(k.At.X, 0, Width) || !Within(k.At.Y, 0, Height)) is { } outside)
            return Bad($"the point {Say(outside.At)} lies outside the picture");
        if (Known.FirstOrDefault(k => !Plausible.OnPaper.Holds(k.Mm.X) || !Plausible.OnPaper.Holds(k.Mm.Y)) is { } far)
            return Bad($"{Say(far.Mm)} mm lies on no paper");
        if (Known.DistinctBy(k => k.At).Count() < 2 || Known.DistinctBy(k => k.Mm).Count() < 2)
            return Bad("its known points lie on one place, which makes no scale");
        if (Residual is { } r && !Within(r, 0, Plausible.OnPaper.Most))
            return Bad("its residual is no length");
        return Picture is null || (Picture.Length == 64 && Picture.All(char.IsAsciiHexDigitLower))
            ? null
            : Bad("its picture is named by 64 hexadecimal digits in lower case (SHA-256)");
    }

    private static bool Within(double value, double least, double most) => value >= least && value <= most;

    private static string Say(Point p) => string.Create(CultureInfo.InvariantCulture, $"({Short(p.X)}, {Short(p.Y)})");

    /// <summary>A wild number in few digits.</summary>
    private static string Short(double value) => value.ToString(Math.Abs(value) < 1e9 ? "0.#" : "0.##E+0", CultureInfo.InvariantCulture);

    private static Refused Bad(string why) => new("calibration", $"The calibration cannot be used: {why}.");
}
