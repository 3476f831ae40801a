namespace BackHistory.History.Timeline;

/// <summary>What a line of the timeline tells, without words: Language makes the sentence for whoever reads it.</summary>
/// <param name="Values">For the places of its sentence, in their order.</param>
public sealed record TimelineFact(TimelineFactKind Kind, IReadOnlyList<TimelineValue> Values);
