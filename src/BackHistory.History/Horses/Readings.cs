namespace BackHistory.History.Horses;

/// <summary>The catalogue of readings.</summary>
public static class Readings
{
    public const string SlopeLeft = "read-slope-left";

    public const string SlopeRight = "read-slope-right";

    public static IReadOnlyList<ReadingKind> All { get; } =
    [
        new(SlopeLeft, Plausible.FlankSlope, true, "inclinometer laid on the left side, below horizontal"),
        new(SlopeRight, Plausible.FlankSlope, true, "inclinometer laid on the right side, below horizontal"),
        new("read-topline-slope", Plausible.ToplineSlope, true, "inclinometer laid along the topline, rising towards the tail"),
    ];

    public static ReadingKind? Find(string key) => All.FirstOrDefault(k => k.Key == key);
}
