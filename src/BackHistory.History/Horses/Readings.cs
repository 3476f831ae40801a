namespace BackHistory.History.Horses;

/// <summary>The catalogue of readings.</summary>
public static class Readings
{
    public static IReadOnlyList<ReadingKind> All { get; } =
    [
        new("read-slope-left", Plausible.FlankSlope, true, "inclinometer laid on the left side, below horizontal"),
        new("read-slope-right", Plausible.FlankSlope, true, "inclinometer laid on the right side, below horizontal"),
        new("read-topline-slope", Plausible.ToplineSlope, true, "inclinometer laid along the topline, rising towards the tail"),
    ];

    public static ReadingKind? Find(string key) => All.FirstOrDefault(k => k.Key == key);
}
