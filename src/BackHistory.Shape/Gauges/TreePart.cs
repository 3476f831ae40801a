namespace BackHistory.Shape.Gauges;

/// <summary>The sides of a tree that a proposal speaks of, and what each is set to.</summary>
public static class TreePart
{
    public const string Left = "tree-left";

    public const string Right = "tree-right";

    /// <summary>Both sides by one mark.</summary>
    public const string Both = "tree";

    private const string LeftSlope = "slope-left";

    private const string RightSlope = "slope-right";

    /// <summary>The measures that a side of the tree is set to, left and right, in degrees.</summary>
    public static IReadOnlyList<string> Slopes { get; } = [LeftSlope, RightSlope];

    /// <summary>The measure that a part is set to.</summary>
    /// <param name="part"><see cref="Left"/>, <see cref="Right"/> or <see cref="Both"/></param>
    /// <param name="read">by a gauge that reads both sides at once; null leaves the opening between them</param>
    public static string MeasureOf(string part, string? read) =>
        part switch
        {
            Left => LeftSlope,
            Right => RightSlope,
            _ => read ?? "opening",
        };
}
