namespace BackHistory.History.Timeline;

/// <summary>One line of a horse's timeline: what happened, when it was true, when it was recorded, by whom.</summary>
public sealed record TimelineEntry
{
    /// <summary>The event's own id, or one that follows from it where it concerns two horses.</summary>
    public Guid Id { get; init; }

    public Guid HorseId { get; init; }

    /// <summary>When it was true.</summary>
    public DateTimeOffset TakenAt { get; init; }

    public DateTimeOffset RecordedAt { get; init; }

    /// <summary>Position in the whole store: the order among things of one moment.</summary>
    public long Sequence { get; init; }

    /// <summary>The event's alias.</summary>
    public string Kind { get; init; } = "";

    /// <summary>visit, saddle, reminder, care or horse: the group that a page shows together.</summary>
    public string Group { get; init; } = "";

    /// <summary>Who did it.</summary>
    public Guid By { get; init; }

    public Guid? VisitId { get; init; }

    public Guid? EntryId { get; init; }

    public Guid? SaddleId { get; init; }

    public Guid? ReminderId { get; init; }

    /// <summary>The note that holds somebody's own words, where there is one.</summary>
    public Guid? NoteId { get; init; }

    public Guid? FileId { get; init; }

    /// <summary>What happened, for Language to put into words.</summary>
    public TimelineFact Fact { get; init; } = TimelineFacts.NotPutIntoWords("");

    /// <summary>Why no more can be said; null where there are.</summary>
    public string? SetAside { get; init; }
}
