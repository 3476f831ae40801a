using BackHistory.Trends.SinceFit;

namespace BackHistory.Trends.Repeats;

/// <summary>What repeats say about a threshold, in words.</summary>
public static class RepeatabilityVerdict
{
    /// <param name="minimalDetectable">In the measure's unit, as the threshold.</param>
    public static string Threshold(string measure, string unit, double threshold, double minimalDetectable) =>
        threshold < minimalDetectable
            ? $"The limit of {Wording.Number(threshold, unit)} on {Wording.Measure(measure)} is below what two visits can tell apart "
                + $"({Wording.Number(minimalDetectable, unit)}): by itself it measures the hand."
            : $"The limit of {Wording.Number(threshold, unit)} on {Wording.Measure(measure)} is above what two visits can tell apart "
                + $"({Wording.Number(minimalDetectable, unit)}): your hand can see such a change.";
}
