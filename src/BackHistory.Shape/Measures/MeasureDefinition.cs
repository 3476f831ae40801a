namespace BackHistory.Shape.Measures;

/// <summary>What a measure is, as data: everything that lists, shows or checks measures is fed from these. Its words stand in Language
/// under its family.</summary>
/// <param name="Key">As it is stored; behind <c>@</c> the depth, mm, or the place.</param>
/// <param name="Unit">As it is stored: <c>mm</c>, <c>deg</c>, <c>cm2</c>, <c>l</c>, <c>%</c>, <c>kg</c>, or <c>1</c>.</param>
/// <param name="AtStation">Taken at each station; else of the whole horse.</param>
public sealed record MeasureDefinition(string Key, string Unit, bool AtStation)
{
    /// <summary>The key without depth or place: what has one name and one definition.</summary>
    public string Family => FamilyOf(Key);

    /// <summary>The side that it is of; null where it is of both or of the midline.</summary>
    public Side? Side =>
        Family.EndsWith("-left", StringComparison.Ordinal) ? BackHistory.Shape.Side.Left
        : Family.EndsWith("-right", StringComparison.Ordinal) ? BackHistory.Shape.Side.Right
        : null;

    public static string FamilyOf(string key) => key.Split('@', 2)[0];
}
