namespace BackHistory.History.Horses;

/// <summary>The catalogue of readings.</summary>
public static class Readings
{
    public const string SlopeLeft = "read-slope-left";

    public const string SlopeRight = "read-slope-right";

    /// <summary>Read between a station and the next towards the tail, and kept at the first of both.</summary>
    public const string ToplineSlope = "read-topline-slope";

    public static IReadOnlyList<ReadingKind> All { get; } =
    [
        new(SlopeLeft, Plausible.FlankSlope, true, "inclinometer laid on the left side, below horizontal"),
        new(SlopeRight, Plausible.FlankSlope, true, "inclinometer laid on the right side, below horizontal"),
        new(ToplineSlope, Plausible.ToplineSlope, true, "inclinometer laid along the topline, rising towards the tail"),
    ];

    /// <summary>The measure of a tracing that says the same as a reading; null where none does.</summary>
    /// <param name="stations">The protocol's, in its order: the topline is read from one to the next.</param>
    public static string? TracedAs(string reading, string? station, IReadOnlyList<string> stations)
    {
        if (reading == SlopeLeft)
            return "slope-left";
        if (reading == SlopeRight)
            return "slope-right";
        if (reading != ToplineSlope || station is null)
            return null;
        var next = stations.SkipWhile(s => s != station).Skip(1).FirstOrDefault();
        return next is null ? null : $"topline-slope@{station}-{next}";
    }

    public static ReadingKind? Find(string key) => All.FirstOrDefault(k => k.Key == key);
}
