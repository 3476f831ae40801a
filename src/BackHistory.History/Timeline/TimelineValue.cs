namespace BackHistory.History.Timeline;

/// <summary>What fills one place of a line: exactly one of these. No words but somebody's own.</summary>
/// <param name="Text">As somebody wrote it, or as the history keeps it: a name, a reason, a part of a saddle.</param>
/// <param name="Number">In the unit that the line names.</param>
/// <param name="Day">A day of the practice.</param>
/// <param name="Moment">With the offset in which it was agreed.</param>
/// <param name="Word">A value of a closed list, to be said in the reader's language.</param>
/// <param name="Parts">Lines inside a line; none where there is nothing to say.</param>
public sealed record TimelineValue(
    string? Text = null,
    double? Number = null,
    DateOnly? Day = null,
    DateTimeOffset? Moment = null,
    TimelineWord? Word = null,
    IReadOnlyList<TimelineFact>? Parts = null
);
