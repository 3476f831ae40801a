using System.Collections.Immutable;
using BackHistory.Shape;

namespace BackHistory.History.Horses;

/// <summary>
/// One visit as it stands: its conditions, its entries and every measure that follows from them. A read model: it can be deleted and
/// rebuilt, and a better measure reaches old tracings that way.
/// </summary>
public sealed partial record VisitRecord
{
    /// <summary>The visit's id.</summary>
    public Guid Id { get; init; }

    public Guid HorseId { get; init; }

    /// <summary>When it was true.</summary>
    public DateTimeOffset TakenAt { get; init; }

    /// <summary>When it was recorded.</summary>
    public DateTimeOffset RecordedAt { get; init; }

    /// <summary>Who measured.</summary>
    public Guid By { get; init; }

    public string Method { get; init; } = "";

    public int ProtocolVersion { get; init; }

    public VisitConditions Conditions { get; init; } = new();

    public bool Withdrawn { get; init; }

    /// <summary>The visit that stands for this one, when it was entered twice.</summary>
    public Guid? MergedInto { get; init; }

    /// <summary>An apprentice entered it, and nobody has confirmed it yet: it is shown, and counts in no decision.</summary>
    public bool AwaitsConfirmation { get; init; }

    public ImmutableList<EntryRecord> Entries { get; init; } = [];

    /// <summary>Events that are in none of its entries, because they could not be worked out; null where there is none.</summary>
    public ImmutableList<SetAsideEvent>? SetAside { get; init; }

    /// <summary>Something of it was set aside and nobody has dealt with it yet; null when it is whole.</summary>
    public bool? NotWhole => !Withdrawn && (SetAside is { IsEmpty: false } || Entries.Exists(e => e.SetAside is not null)) ? true : null;

    /// <summary>The measures of the entries that stand, in the order of entry.</summary>
    public IEnumerable<MeasureRow> Standing() => Withdrawn ? [] : Entries.Where(e => e.Stands).SelectMany(e => e.Measures);
}

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

/// <summary>One number of one visit.</summary>
/// <param name="Sd">Standard deviation from the tracing's own noise; null where it has none.</param>
/// <param name="Why">Why there is no value.</param>
public sealed record MeasureRow(string Key, string? Station, double? Value, string Unit, double? Sd = null, string? Why = null);
