using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <param name="Version">The horse's version at which it was entered: where the points lie in the history.</param>
/// <param name="Kind">cross-section, topline, reading, condition, muscle, weight, girth, height, note.</param>
/// <param name="Stands">False once it was corrected or withdrawn.</param>
/// <param name="Because">Why it no longer stands.</param>
/// <param name="Calibration">Of a tracing that was made on a picture.</param>
/// <param name="SetAside">
/// Why nothing could be worked out from it; null where something was, and once it was corrected or withdrawn.
/// </param>
public sealed record EntryRecord(
    Guid EntryId,
    long Version,
    string Kind,
    string? Station,
    IReadOnlyList<MeasureRow> Measures,
    IReadOnlyList<QualityFlag> Flags,
    bool Stands = true,
    Guid? ReplacedBy = null,
    string? Because = null,
    Calibration? Calibration = null,
    string? SetAside = null
);
