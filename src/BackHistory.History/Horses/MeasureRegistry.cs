using BackHistory.Shape.Measures;

namespace BackHistory.History.Horses;

/// <summary>Every measure there is: those computed from tracings, then those taken by hand.</summary>
public static class MeasureRegistry
{
    public static IReadOnlyList<MeasureDefinition> All { get; } =
    [
        .. ComputedMeasures.All,
        new(Readings.SlopeLeft, "deg", AtStation: true),
        new(Readings.SlopeRight, "deg", AtStation: true),
        new("read-topline-slope", "deg", AtStation: false),
        new("weight", "kg", AtStation: false),
        new("condition", "1", AtStation: false),
        new("muscle", "1", AtStation: false),
        new("height-withers", "mm", AtStation: false),
        new("height-croup", "mm", AtStation: false),
    ];

    private static readonly Dictionary<string, MeasureDefinition> ByFamily = All.DistinctBy(m => m.Family, StringComparer.Ordinal)
        .ToDictionary(m => m.Family, StringComparer.Ordinal);

    private static readonly HashSet<string> Computed = ComputedMeasures.All.Select(m => m.Family).ToHashSet(StringComparer.Ordinal);

    private static readonly HashSet<string> SecondNames = All.Where(m =>
            m.Key == m.Family && All.Any(o => o.Family == m.Key && o.Key != m.Key)
        )
        .Select(m => m.Key)
        .ToHashSet(StringComparer.Ordinal);

    /// <summary>The definition of a key; one of its family where the depth or place is another; null where there is none.</summary>
    public static MeasureDefinition? Find(string key) => ByFamily.GetValueOrDefault(MeasureDefinition.FamilyOf(key));

    /// <summary>The stored unit; <c>1</c> where the measure is not known.</summary>
    public static string UnitOf(string key) => Find(key)?.Unit ?? "1";

    /// <summary>Worked out of tracings; else taken by hand.</summary>
    public static bool IsComputed(string key) => Computed.Contains(MeasureDefinition.FamilyOf(key));

    /// <summary>A key without a depth where its family has depths: the same measure under another name, as <c>half-area-left</c> is
    /// <c>half-area-left@150</c>.</summary>
    public static bool IsSecondName(string key) => SecondNames.Contains(key);

    public static bool IsAtStation(string key) => Find(key)?.AtStation ?? false;
}
