using System.Numerics;

namespace BackHistory.Formats.Meshes;

/// <summary>
/// Colours of a change map: green where the back gained, purple where it lost, near white where it stayed, grey where nothing is known. The
/// ends of the ColorBrewer scheme PRGn, which stay apart for colour-blind readers; blue and orange are taken: they mean left and right.
/// </summary>
public static class ChangeColour
{
    private static readonly Vector3 Gained = new(27, 120, 55),
        Lost = new(118, 42, 131),
        Same = new(245, 245, 245),
        Unknown = new(150, 150, 150);

    /// <summary>Red, green, blue, 0 … 255, as a screen shows them.</summary>
    public static Vector3 Screen(double change, double fullColour)
    {
        if (double.IsNaN(change))
            return Unknown;
        var share = (float)Math.Clamp(Math.Abs(change) / fullColour, 0, 1);
        return Vector3.Lerp(Same, change > 0 ? Gained : Lost, share);
    }

    /// <summary>The same as linear light, 0 … 1, as glTF wants its vertex colours (IEC 61966-2-1, sRGB).</summary>
    internal static Vector3 Linear(double change, double fullColour)
    {
        var screen = Screen(change, fullColour) / 255;
        return new Vector3(ToLinear(screen.X), ToLinear(screen.Y), ToLinear(screen.Z));
    }

    private static float ToLinear(float value) => value <= 0.04045f ? value / 12.92f : MathF.Pow((value + 0.055f) / 1.055f, 2.4f);
}
