namespace BackHistory.Shape.Gauges;

/// <summary>Where the junction of the muscles lies on one side, today.</summary>
/// <param name="Out">from the midline, mm</param>
/// <param name="Down">below the midline, mm</param>
/// <param name="KnownBefore">it was marked at the baseline too, so that a change can be said</param>
public sealed record MuscleJunction(double Out, double Down, bool KnownBefore);
