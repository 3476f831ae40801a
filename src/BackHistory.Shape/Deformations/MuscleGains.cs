namespace BackHistory.Shape.Deformations;

/// <summary>
/// The same by where along the flank the muscle lies fullest: in the middle of a flank it leaves the slope as it is, further in or out it
/// does not.
/// </summary>
public readonly record struct MuscleGains(double Inner, double Middle, double Outer);
