namespace BackHistory.Shape.Measures;

/// <summary>The measures that are computed from tracings, in the order of their tables.</summary>
public static class ComputedMeasures
{
    /// <summary>Those whose places are named by the tracing (marks, chords between stations) stand here by their family.</summary>
    public static IReadOnlyList<MeasureDefinition> All { get; } =
    [
        .. SectionMeasures.Definitions,
        new("mark-lateral", "mm", AtStation: true),
        new("mark-depth", "mm", AtStation: true),
        new("topline-slope", "deg", AtStation: false),
        .. ToplineMeasures.Definitions,
        new("half-volume-left", "l", AtStation: false),
        new("half-volume-right", "l", AtStation: false),
    ];
}
