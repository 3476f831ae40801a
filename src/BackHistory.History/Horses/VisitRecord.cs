using System.Collections.Immutable;

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
