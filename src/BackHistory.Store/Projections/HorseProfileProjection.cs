using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Projections;

/// <summary>Folds the events of a horse, of its saddles and of its reminders into one profile.</summary>
public sealed partial class HorseProfileProjection : MultiStreamProjection<HorseProfile, Guid>
{
    public HorseProfileProjection()
    {
        Name = nameof(HorseProfile);
        Identity<IEvent<IHorseEvent>>(e => e.StreamId);
        Identity<ISaddleOnHorse>(e => e.HorseId);
        Identity<SaddleMoved>(e => e.FromHorseId);
        Identity<IReminderEvent>(e => e.HorseId);
    }

    public override HorseProfile? Evolve(HorseProfile? snapshot, Guid id, IEvent e) => Fold(snapshot, id, e);

    /// <summary>
    /// One event further. Nothing is known of a horse before it was registered; an event that cannot be worked out is set aside in its
    /// profile.
    /// </summary>
    /// <param name="id">The horse: a saddle that moves concerns two.</param>
    public static HorseProfile? Fold(HorseProfile? horse, Guid id, IEvent e) =>
        SettingAside.Fold(
            e,
            () => Next(horse, id, e),
            aside =>
            {
                var known = horse ?? new HorseProfile { Id = id, RegisteredAt = e.Timestamp };
                return known with
                {
                    SetAside = [.. known.SetAside ?? [], aside],
                    StreamVersion = e.Data is IHorseEvent ? e.Version : known.StreamVersion,
                    Head = e.Sequence,
                    RecordedAt = e.Timestamp,
                };
            }
        );

    private static HorseProfile? Next(HorseProfile? horse, Guid id, IEvent e)
    {
        if (e.Data is HorseRegistered r)
            horse = Registered(r);
        if (horse is null)
            return null;
        var next = e.Data switch
        {
            IHorseEvent d => OfHorse(horse, d) with { StreamVersion = e.Version },
            ISaddleOnHorse d => ProfileSaddles.Fold(horse, id, e.StreamId, d),
            IReminderEvent d => OfReminder(horse, e.StreamId, d),
            _ => throw UnknownEventException.In(nameof(HorseProfile), e.Data),
        };
        return next with
        {
            Head = e.Sequence,
            RecordedAt = e.Timestamp,
            LastCorrection = IsCorrection(e.Data) ? e.Timestamp : next.LastCorrection,
        };
    }

    /// <summary>Decisions that were taken before these may have rested on what they take back.</summary>
    private static bool IsCorrection(object e) =>
        e
            is VisitCorrected
                or VisitWithdrawn
                or VisitMerged
                or EntryCorrected
                or EntryWithdrawn
                or WorkWithdrawn
                or CareCorrected
                or CareWithdrawn
                or HorseDetailsCorrected
                or HorseWithdrawn
                or HorseRestored
                or HorseMerged
                or HorseMergedAway
                or SaddleWorkWithdrawn
                or SaddleWorkCorrected;

    private static HorseProfile Registered(HorseRegistered r) =>
        new()
        {
            Id = r.HorseId,
            Name = r.Name,
            Sex = r.Sex,
            Foaled = r.Foaled,
            HeightMm = r.HeightMm,
            Breed = r.Breed,
            Colour = r.Colour,
            OwnerId = r.OwnerId,
            YardId = r.YardId,
            RegisteredAt = r.TakenAt,
        };

    private static HorseProfile OfHorse(HorseProfile horse, IHorseEvent e) =>
        e switch
        {
            HorseDetailsCorrected d => horse with
            {
                Name = d.Name,
                Sex = d.Sex,
                Foaled = d.Foaled,
                HeightMm = d.HeightMm,
                Breed = d.Breed,
                Colour = d.Colour,
            },
            HorseWithdrawn => horse with { Gone = true },
            HorseRestored => horse with { Gone = false },
            HorseMergedAway d => horse with { Gone = true, MergedInto = d.IntoId },
            OwnerChanged d => horse with { OwnerId = d.OwnerId },
            YardChanged d => horse with { YardId = d.YardId },
            CareRoleTaken d => horse with { CaredForBy = horse.CaredForBy.Add(new CarePart(d.PersonId, d.Role)) },
            CareRoleEnded d => horse with { CaredForBy = horse.CaredForBy.Remove(new CarePart(d.PersonId, d.Role)) },
            WorkChanged d => horse with { Work = horse.Work.Add(new WorkSpan(d.WorkId, d.TakenAt, d.Load, d.Discipline, d.HoursPerWeek)) },
            WorkWithdrawn d => horse with { Work = horse.Work.RemoveAll(w => w.WorkId == d.WorkId) },
            CareNoted d => horse with { Care = horse.Care.Add(new CareSpan(d.NoteId, d.Kind, d.From, d.Until)) },
            CareEnded d => horse with { Care = horse.Care.ConvertAll(c => c.NoteId == d.NoteId ? c with { Until = d.Until } : c) },
            CareCorrected d => horse with
            {
                Care = horse.Care.ConvertAll(c => c.NoteId == d.NoteId ? new CareSpan(d.NoteId, d.Kind, d.From, d.Until) : c),
            },
            CareWithdrawn d => horse with { Care = horse.Care.RemoveAll(c => c.NoteId == d.NoteId) },
            HorseFileAttached d => horse with { Files = horse.Files.Add(new FileOn(d.File, d.VisitId, d.TakenAt)) },
            HorseFileRemoved d => horse with { Files = horse.Files.RemoveAll(f => f.File.FileId == d.FileId) },
            VisitRecorded d => horse with { Visits = horse.Visits.SetItem(d.VisitId, d.TakenAt) },
            VisitCorrected d => horse with { Visits = horse.Visits.SetItem(d.VisitId, d.VisitTakenAt) },
            VisitWithdrawn d => horse with { Visits = horse.Visits.Remove(d.VisitId) },
            VisitMerged d => horse with { Visits = horse.Visits.Remove(d.VisitId) },
            // Taken before the others: it makes the profile.
            HorseRegistered => horse,
            // What was taken in follows as events of its own.
            HorseMerged => horse,
            // What a visit holds stands in its record.
            CrossSectionTraced
            or ToplineTraced
            or ReadingTaken
            or ConditionScored
            or MuscleScored
            or Weighed
            or GirthTaped
            or HeightMeasured
            or VisitNoted
            or EntryCorrected
            or EntryWithdrawn
            or ConfirmationAsked
            or VisitConfirmed => horse,
            _ => throw UnknownEventException.In(nameof(HorseProfile), e),
        };

    private static HorseProfile OfReminder(HorseProfile horse, Guid id, IReminderEvent e)
    {
        return e switch
        {
            ReminderRaised r => horse with
            {
                Reminders = horse.Reminders.SetItem(
                    id,
                    new OpenReminder(r.SaddleId, r.Rule, r.HoldUntil is null ? ReminderState.Open : ReminderState.Pending, r.TakenAt, false)
                ),
            },
            LetterSent => With(open => open with { Told = true }),
            ReminderMuted => With(open =>
                open with
                {
                    State = ReminderState.Muted,
                    Before = open.State == ReminderState.Muted ? open.Before : open.State,
                }
            ),
            ReminderUnmuted => With(open => open with { State = open.Before, Before = ReminderState.Open }),
            ReminderOpened or ReminderResumed or BookingCancelled or BookingPassed => With(open => In(open, ReminderState.Open)),
            ReminderPutOff => With(open => In(open, ReminderState.PutOff)),
            VisitBooked => With(open => In(open, ReminderState.Booked)),
            ReminderResolved or ReminderClosed or ReminderWithdrawn or VetCleared => horse with { Reminders = horse.Reminders.Remove(id) },
            // How far a letter got, and what was answered, moves a reminder by the events that follow.
            LetterOwed or LetterDeferred or LetterDelayed or LetterDelivered or LetterBounced or LetterGivenUp or ReminderAnswered => horse,
            _ => throw UnknownEventException.In(nameof(HorseProfile), e),
        };

        static OpenReminder In(OpenReminder reminder, ReminderState state) =>
            reminder.State == ReminderState.Muted ? reminder with { Before = state } : reminder with { State = state };

        HorseProfile With(Func<OpenReminder, OpenReminder> change) =>
            horse.Reminders.TryGetValue(id, out var open) ? horse with { Reminders = horse.Reminders.SetItem(id, change(open)) } : horse;
    }
}
