using BackHistory.History.Timeline;
using BackHistory.Language.Timeline;

namespace BackHistory.Service.Horses;

/// <summary>One line of a horse's timeline as the interface answers it.</summary>
/// <param name="Id">The event's own id, or one that follows from it where it concerns two horses.</param>
/// <param name="TakenAt">When it was true.</param>
/// <param name="Sequence">Position in the whole store: the order among things of one moment.</param>
/// <param name="Kind">The event's alias.</param>
/// <param name="Group">visit, saddle, reminder, care or horse.</param>
/// <param name="By">Who did it.</param>
/// <param name="NoteId">The note that holds somebody's own words, where there is one.</param>
/// <param name="Says">In a person's words.</param>
/// <param name="SetAside">Why there are no better words; null where there are.</param>
public sealed record TimelineAnswer(
    Guid Id,
    Guid HorseId,
    DateTimeOffset TakenAt,
    DateTimeOffset RecordedAt,
    long Sequence,
    string Kind,
    string Group,
    Guid By,
    Guid? VisitId,
    Guid? EntryId,
    Guid? SaddleId,
    Guid? ReminderId,
    Guid? NoteId,
    Guid? FileId,
    string Says,
    string? SetAside
)
{
    /// <param name="zone">The practice's.</param>
    public static TimelineAnswer From(TimelineEntry t, TimeZoneInfo zone) =>
        new(
            t.Id,
            t.HorseId,
            t.TakenAt,
            t.RecordedAt,
            t.Sequence,
            t.Kind,
            t.Group,
            t.By,
            t.VisitId,
            t.EntryId,
            t.SaddleId,
            t.ReminderId,
            t.NoteId,
            t.FileId,
            t.InWords(zone),
            t.SetAside
        );
}
