using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Saddles;
using BackHistory.History.Sharing;
using BackHistory.History.Timeline;
using BackHistory.Store.Events;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Projections;

/// <summary>One timeline entry for every event that touches a horse; two for one that touches two.</summary>
public sealed partial class TimelineProjection : MultiStreamProjection<TimelineEntry, Guid>
{
    public TimelineProjection()
    {
        Name = "Timeline";
        Identity<IEvent<IHorseEvent>>(e => e.Id);
        Identity<IEvent<ISaddleOnHorse>>(e => e.Id);
        Identity<IEvent<SaddleMoved>>(e => Left(e.Id));
        Identity<IEvent<IReminderEvent>>(e => e.Id);
    }

    public override TimelineEntry? Evolve(TimelineEntry? snapshot, Guid id, IEvent e) => EntryFor(id, e);

    /// <summary>The entry of one event.</summary>
    /// <param name="id">The entry's: the event's own, or that of the horse which a saddle left.</param>
    public static TimelineEntry? EntryFor(Guid id, IEvent e) =>
        SettingAside.Fold(
            e,
            () => EntryFrom(id, e),
            aside => new TimelineEntry
            {
                Id = id,
                HorseId = e.Data switch
                {
                    SaddleMoved d when id != e.Id => d.FromHorseId,
                    ISaddleOnHorse d => d.HorseId,
                    IReminderEvent d => d.HorseId,
                    IHorseEvent => e.StreamId,
                    _ => throw UnknownEventException.In("Timeline", e.Data),
                },
                TakenAt = e.Timestamp,
                RecordedAt = e.Timestamp,
                Sequence = e.Sequence,
                Kind = aside.What,
                Group = "horse",
                VisitId = (e.Data as IVisitEvent)?.VisitId,
                By = (e.Data as IHappened)?.By ?? Guid.Empty,
                Fact = TimelineFacts.NotPutIntoWords(aside.What),
                SetAside = aside.Why,
            }
        );

    private static TimelineEntry? EntryFrom(Guid id, IEvent e)
    {
        // Of a saddle on no horse, of the practice, and of who may look: none of it happened to the horse.
        if (e.Data is ISaddleEvent and not ISaddleOnHorse or IPracticeEvent or IDigestEvent or ISharingEvent)
            return null;
        if (e.Data is not IHappened happened)
            throw UnknownEventException.In("Timeline", e.Data);
        var entry = new TimelineEntry
        {
            Id = id,
            RecordedAt = e.Timestamp,
            Sequence = e.Sequence,
            Kind = EventAliases.AliasOf(e.Data),
            By = happened.By,
            TakenAt = happened.TakenAt,
            Fact = TimelineFacts.FactFrom(e.Data),
        };
        return e.Data switch
        {
            IHorseEvent d => OfHorse(entry with { HorseId = e.StreamId }, d),
            SaddleMoved d when id != e.Id => entry with
            {
                HorseId = d.FromHorseId,
                Group = "saddle",
                SaddleId = e.StreamId,
                Fact = TimelineFacts.OfLeaving(d),
            },
            ISaddleOnHorse d => entry with
            {
                HorseId = d.HorseId,
                Group = "saddle",
                SaddleId = e.StreamId,
                VisitId = (d as ISaddleWork)?.VisitId,
            },
            IReminderEvent d => entry with
            {
                HorseId = d.HorseId,
                Group = "reminder",
                ReminderId = e.StreamId,
                NoteId = (d as ReminderAnswered)?.NoteId,
            },
            _ => throw UnknownEventException.In("Timeline", e.Data),
        };
    }

    private static TimelineEntry OfHorse(TimelineEntry entry, IHorseEvent e) =>
        e switch
        {
            IVisitEntryEvent d => entry with
            {
                Group = "visit",
                VisitId = d.VisitId,
                EntryId = d.EntryId,
                NoteId = (d as VisitNoted)?.NoteId,
            },
            EntryCorrected d => entry with { Group = "visit", VisitId = d.VisitId, EntryId = d.EntryId },
            EntryWithdrawn d => entry with { Group = "visit", VisitId = d.VisitId, EntryId = d.EntryId },
            IVisitEvent d => entry with { Group = "visit", VisitId = d.VisitId },
            // A note stands at the day of what it tells, not at the day it was written.
            CareNoted d => entry with { Group = "care", NoteId = d.NoteId, TakenAt = StartOf(d.From) },
            CareCorrected d => entry with { Group = "care", NoteId = d.NoteId },
            CareEnded d => entry with { Group = "care", NoteId = d.NoteId, TakenAt = StartOf(d.Until) },
            CareWithdrawn d => entry with { Group = "care", NoteId = d.NoteId },
            WorkChanged or WorkWithdrawn or CareRoleTaken or CareRoleEnded => entry with { Group = "care" },
            HorseFileAttached d => entry with { Group = "horse", FileId = d.File.FileId, VisitId = d.VisitId },
            HorseFileRemoved d => entry with { Group = "horse", FileId = d.FileId },
            HorseRegistered
            or HorseDetailsCorrected
            or HorseWithdrawn
            or HorseRestored
            or HorseMerged
            or HorseMergedAway
            or OwnerChanged
            or YardChanged => entry with
            {
                Group = "horse",
            },
            _ => throw UnknownEventException.In("Timeline", e),
        };

    internal static Guid Left(Guid eventId) => DeterministicId.From("left", eventId.ToString());

    private static DateTimeOffset StartOf(DateOnly day) => new(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
}
