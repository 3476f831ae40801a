using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.History.Horses;

/// <summary>Folds the events of a horse, of its saddles and of its reminders into one profile.</summary>
public sealed partial class HorseProfileProjection : MultiStreamProjection<HorseProfile, Guid>
{
    public HorseProfileProjection()
    {
        Name = nameof(HorseProfile);
        Identity<IEvent<IHorseEvent>>(e => e.StreamId);
        Identity<ISaddleWork>(e => e.HorseId);
        Identity<SaddleWorkWithdrawn>(e => e.HorseId);
        Identity<SaddleTakenOff>(e => e.HorseId);
        Identity<IReminderEvent>(e => e.HorseId);
    }

    public override HorseProfile? Evolve(HorseProfile? snapshot, Guid id, IEvent e) => Fold(snapshot, e);

    /// <summary>One event further. Nothing is known of a horse before it was registered.</summary>
    public static HorseProfile? Fold(HorseProfile? horse, IEvent e)
    {
        if (e.Data is HorseRegistered r)
        {
            horse = new HorseProfile
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
        }

        if (horse is null) return null;
        var next = e.Data switch
        {
            IHorseEvent d => OfHorse(horse, d) with { StreamVersion = e.Version },
            ISaddleEvent d => OfSaddle(horse, e.StreamId, d),
            IReminderEvent d => OfReminder(horse, e.StreamId, d),
            _ => horse,
        };
        var corrected = e.Data is VisitCorrected or VisitWithdrawn or EntryCorrected or EntryWithdrawn or SaddleWorkWithdrawn;
        return next with { Head = e.Sequence, RecordedAt = e.Timestamp, LastCorrection = corrected ? e.Timestamp : next.LastCorrection };
    }

    private static HorseProfile OfHorse(HorseProfile horse, IHorseEvent e) => e switch
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
        OwnerChanged d => horse with { OwnerId = d.OwnerId },
        YardChanged d => horse with { YardId = d.YardId },
        WorkChanged d => horse with { Work = horse.Work.Add(new WorkSpan(d.TakenAt, d.Load, d.Discipline)) },
        CareNoted d => horse with { Care = horse.Care.Add(new CareSpan(d.NoteId, d.Kind, d.From, d.Until)) },
        VisitRecorded d => horse with { Visits = horse.Visits.SetItem(d.VisitId, d.TakenAt) },
        VisitCorrected d => horse with { Visits = horse.Visits.SetItem(d.VisitId, d.VisitTakenAt) },
        VisitWithdrawn d => horse with { Visits = horse.Visits.Remove(d.VisitId) },
        _ => horse,
    };

    private static HorseProfile OfSaddle(HorseProfile horse, Guid saddleId, ISaddleEvent e) => e switch
    {
        SaddleSet d => horse with { Fits = horse.Fits.Add(new Fit(saddleId, d.WorkId, d.VisitId, d.TakenAt, true, d.NewSaddle)) },
        SaddleAltered d => horse with { Fits = horse.Fits.Add(new Fit(saddleId, d.WorkId, d.VisitId, d.TakenAt, false, d.Reflocked)) },
        SaddleWorkWithdrawn d => horse with { Fits = horse.Fits.RemoveAll(f => f.WorkId == d.WorkId) },
        SaddleTakenOff => horse with { Fits = horse.Fits.RemoveAll(f => f.SaddleId == saddleId) },
        _ => horse,
    };

    private static HorseProfile OfReminder(HorseProfile horse, Guid id, IReminderEvent e)
    {
        if (e is ReminderRaised r)
        {
            return horse with { Reminders = horse.Reminders.SetItem(id, new OpenReminder(r.SaddleId, r.Rule, ReminderState.Open, r.TakenAt, false)) };
        }

        if (!horse.Reminders.TryGetValue(id, out var open)) return horse;
        return e switch
        {
            LetterSent => With(open with { Told = true }),
            ReminderPutOff => With(open with { State = ReminderState.PutOff }),
            VisitBooked => With(open with { State = ReminderState.Booked }),
            ReminderResolved or ReminderClosed or ReminderWithdrawn => horse with { Reminders = horse.Reminders.Remove(id) },
            _ => horse,
        };

        HorseProfile With(OpenReminder changed) => horse with { Reminders = horse.Reminders.SetItem(id, changed) };
    }
}
