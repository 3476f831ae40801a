namespace BackHistory.History.Horses;

/// <summary>One panel of the condition over time.</summary>
/// <param name="Name">What its measures have in common; a measure where there is one.</param>
/// <param name="Keys">One measure, or left and right.</param>
public sealed record ConditionMeasures(string Name, IReadOnlyList<string> Keys)
{
    public bool AtStation => MeasureRegistry.IsAtStation(Keys[0]);
}
