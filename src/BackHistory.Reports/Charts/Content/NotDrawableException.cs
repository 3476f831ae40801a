using System.Globalization;

namespace BackHistory.Reports.Charts.Content;

/// <summary>The input holds a value that no picture can show (not finite, a negative sd, no series); the message names it.</summary>
public sealed class NotDrawableException(string message) : Exception(message)
{
    internal static void ThrowUnlessFinite(double value, string what)
    {
        if (!double.IsFinite(value))
            throw new NotDrawableException(string.Create(CultureInfo.InvariantCulture, $"{what} is {value}, which cannot be drawn."));
    }

    internal static void ThrowUnlessSd(double sd, string what)
    {
        if (!double.IsFinite(sd) || sd < 0)
            throw new NotDrawableException(
                string.Create(CultureInfo.InvariantCulture, $"{what} is {sd}; a standard deviation is a number from 0 up.")
            );
    }
}
