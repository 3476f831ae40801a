using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Horses;

namespace BackHistory.Service.Horses;

/// <summary>A horse as it was known at a moment, as the interface answers it.</summary>
/// <param name="KnownAt">The moment, by the store's clock.</param>
/// <param name="Position">Of the last event that was known, in the whole store.</param>
/// <param name="Visits">Oldest first by true time, withdrawn ones too.</param>
/// <param name="Timeline">Newest first by true time.</param>
/// <param name="Watch">What would have been said on that day by the rules of that day; null before the practice had rules.</param>
public sealed record PastAnswer(
    Guid Id,
    DateTimeOffset KnownAt,
    long Position,
    HorseProfile Profile,
    IReadOnlyList<VisitRecord> Visits,
    IReadOnlyList<TimelineAnswer> Timeline,
    IReadOnlyList<Reminder> Reminders,
    Assessment? Watch
)
{
    /// <param name="zone">The practice's.</param>
    public static PastAnswer From(HorseThen h, TimeZoneInfo zone) =>
        new(
            h.Id,
            h.KnownAt,
            h.Position,
            h.Profile,
            h.Visits,
            [.. h.Timeline.Select(t => TimelineAnswer.From(t, zone))],
            h.Reminders,
            h.Watch
        );
}
