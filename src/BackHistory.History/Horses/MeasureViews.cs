namespace BackHistory.History.Horses;

/// <summary>Which measures a reader is shown, and in which order, where not all are: choices of the trade, no source.</summary>
public static class MeasureViews
{
    /// <summary>Shown where no measure was asked for and none drives the finding: a side's slope is what a tree is set to.</summary>
    public const string Usual = "slope-left";

    /// <summary>How backs change over a whole practice, where no measure was asked for.</summary>
    public const string OfAPractice = "width@100";

    /// <summary>The one chart of an owner's page, the first that was taken.</summary>
    public static IReadOnlyList<string> Owner { get; } = [Usual, "condition", "weight"];

    /// <summary>Families, in the order in which whoever treats the horse looks at them; of two sides the left, which brings the
    /// right.</summary>
    public static IReadOnlyList<string> Treating { get; } =
    ["condition", "weight", "muscle", "half-area-left", "skew-area", "skew-shape", "topline-drop", "fill-left", Usual, "opening"];

    /// <summary>What a workshop's gauge can read: <c>slope</c> for one side at a time, or a measure.</summary>
    public static IReadOnlyList<string> Gauge { get; } = ["slope", "opening", "width@100", "width@30"];

    /// <summary>Panels of the condition over time, left and right in one.</summary>
    public static IReadOnlyList<ConditionMeasures> Condition { get; } =
    [
        new("half-area@100", [HalfAreaLeft, HalfAreaRight]),
        new("fill", ["fill-left", "fill-right"]),
        new("half-volume", ["half-volume-left", "half-volume-right"]),
        new("topline-drop", ["topline-drop"]),
        new("weight", ["weight"]),
        new("condition", ["condition"]),
    ];

    /// <summary>The muscle of one side is judged by its area down to 100 mm.</summary>
    public const string HalfAreaLeft = "half-area-left@100";

    /// <inheritdoc cref="HalfAreaLeft"/>
    public const string HalfAreaRight = "half-area-right@100";
}
