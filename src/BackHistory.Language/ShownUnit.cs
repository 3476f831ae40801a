namespace BackHistory.Language;

/// <summary>How numbers of a stored unit are shown.</summary>
/// <param name="Factor">From the stored unit to the shown one.</param>
/// <param name="Unit">As printed.</param>
public readonly record struct ShownUnit(double Factor, string Unit, int Decimals);
