using System.Globalization;

namespace BackHistory.History;

/// <summary>Between what, inclusive, a number can be meant.</summary>
/// <param name="Unit">As measures say it; empty where there is none.</param>
public readonly record struct PlausibleRange(double Least, double Most, string Unit = "")
{
    /// <summary>False also for what is no number.</summary>
    public bool Holds(double value) => value >= Least && value <= Most;

    /// <summary><c>20 to 1600 kg</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Least:0.#####} to {Most:0.#####} {Unit}").TrimEnd();
}
