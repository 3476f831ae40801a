namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>Loss on one side that a veterinary surgeon should see before any refit (method.md section 9).</summary>
public sealed record VetCaution(string Side, string? Station, double P, double ChangePercent, double SdPercent);
