namespace BackHistory.History;

/// <summary>What every event says of itself: when it was true and who did it.</summary>
public interface IHappened
{
    /// <summary>When it was true: the yard's time, not the time of recording.</summary>
    DateTimeOffset TakenAt { get; }

    /// <summary>The person's id. Names live in documents that can be erased.</summary>
    Guid By { get; }
}
