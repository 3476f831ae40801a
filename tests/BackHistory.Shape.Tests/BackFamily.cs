namespace BackHistory.Shape.Tests;

/// <summary>Made-up smooth backs of one kind.</summary>
/// <param name="Flank">inclination of the flanks, degrees</param>
/// <param name="Ridge">radius of the ridge, mm; 0 makes a crease at the midline</param>
/// <param name="Hollow">how far the flank dips, degrees; negative = filled</param>
internal sealed record BackFamily(
    string Name,
    (double From, double To) Flank,
    (double From, double To) Ridge,
    (double From, double To) Hollow
)
{
    internal static readonly BackFamily Middling = new("middling", (25, 58), (12, 120), (-10, 16));

    internal static readonly BackFamily[] All =
    [
        new("round", (30, 55), (60, 150), (-10, 6)),
        new("flat", (18, 32), (40, 150), (-10, 6)),
        new("narrow", (50, 66), (15, 60), (-4, 16)),
        new("sharp", (35, 58), (8, 16), (-4, 16)),
        Middling,
    ];
}

/// <summary>
/// How evenly the points of a tracing follow each other: at one distance, at 0.6 to 1.4 times it, or ragged with clusters and stretches.
/// </summary>
internal enum Steps
{
    Even,
    Uneven,
    Ragged,
}
