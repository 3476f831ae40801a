using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using Kind = BackHistory.History.Timeline.TimelineFactKind;

namespace BackHistory.History.Timeline;

/// <summary>From an event to what the timeline tells of it.</summary>
internal static class TimelineFacts
{
    public static TimelineFact FactFrom(object e) =>
        e switch
        {
            HorseRegistered d => FactFrom(Kind.HorseRegistered, Text(d.Name)),
            HorseDetailsCorrected d => FactFrom(Kind.HorseDetailsCorrected, Text(d.Reason)),
            HorseWithdrawn d => FactFrom(Kind.HorseWithdrawn, Text(d.Reason)),
            HorseRestored d => FactFrom(Kind.HorseRestored, Text(d.Reason)),
            HorseMerged d => FactFrom(Kind.HorseMerged, Text(d.Reason)),
            HorseMergedAway d => FactFrom(Kind.HorseMergedAway, Text(d.Reason)),
            OwnerChanged d => FactFrom(d.OwnerId is null ? Kind.OwnerUnknown : Kind.OwnerChanged),
            YardChanged => FactFrom(Kind.YardChanged),
            CareRoleTaken d => FactFrom(Kind.CareRoleTaken, Word(d.Role)),
            CareRoleEnded d => FactFrom(Kind.CareRoleEnded, Word(d.Role)),
            WorkChanged d => FactFrom(
                Kind.WorkChanged,
                Word(d.Load),
                Parts(d.Discipline is { } discipline ? FactFrom(Kind.WorkDiscipline, Text(discipline)) : null),
                Parts(d.HoursPerWeek is { } hours ? FactFrom(Kind.WorkHours, Number(hours)) : null)
            ),
            WorkWithdrawn d => FactFrom(Kind.WorkWithdrawn, Text(d.Reason)),
            CareEnded d => FactFrom(Kind.CareEnded, Day(d.Until)),
            CareCorrected d => FactFrom(Kind.CareCorrected, Word(d.Kind), Text(d.Reason)),
            CareWithdrawn d => FactFrom(Kind.CareWithdrawn, Text(d.Reason)),
            HorseFileAttached d => FactFrom(d.File.Kind == FileKind.Photograph ? Kind.PhotographAttached : Kind.DocumentAttached),
            HorseFileRemoved d => FactFrom(Kind.HorseFileRemoved, Text(d.Reason)),
            CareNoted { Until: { } until } d => FactFrom(Kind.CareNotedUntil, Word(d.Kind), Day(d.From), Day(until)),
            CareNoted d => FactFrom(Kind.CareNoted, Word(d.Kind), Day(d.From)),
            VisitRecorded d => FactFrom(d.Conditions.Source == Source.SentIn ? Kind.MeasurementsSentIn : Kind.VisitRecorded),
            VisitCorrected d => FactFrom(Kind.VisitCorrected, Text(d.Reason)),
            VisitWithdrawn d => FactFrom(Kind.VisitWithdrawn, Text(d.Reason)),
            CrossSectionTraced d => FactFrom(Kind.CrossSectionTraced, Text(d.Station), Number(d.Points.Count), Scale(d.Calibration)),
            ToplineTraced d => FactFrom(Kind.ToplineTraced, Number(d.Points.Count), Scale(d.Calibration)),
            ReadingTaken d => FactFrom(Kind.ReadingTaken, Text(d.Measure), Text(d.Station), Number(d.Value), Text(d.Unit)),
            ConditionScored d => FactFrom(Kind.ConditionScored, Number(d.Score)),
            MuscleScored d => FactFrom(Kind.MuscleScored, Text(d.Site), Number(d.Score), Text(d.Scale)),
            Weighed d => FactFrom(Kind.Weighed, Number(d.Kilograms)),
            GirthTaped d => FactFrom(Kind.GirthTaped, Number(d.GirthMm / 10), Number(d.LengthMm / 10)),
            HeightMeasured { CroupMm: { } croup } d => FactFrom(Kind.HeightsMeasured, Height(d.WithersMm), Height(croup)),
            HeightMeasured d => FactFrom(Kind.HeightMeasured, Height(d.WithersMm)),
            VisitNoted => FactFrom(Kind.VisitNoted),
            VisitMerged d => FactFrom(Kind.VisitMerged, Text(d.Reason)),
            ConfirmationAsked => FactFrom(Kind.ConfirmationAsked),
            VisitConfirmed => FactFrom(Kind.VisitConfirmed),
            EntryCorrected d => FactFrom(Kind.EntryCorrected, Text(d.Reason)),
            EntryWithdrawn d => FactFrom(Kind.EntryWithdrawn, Text(d.Reason)),
            SaddleSet d => FactFrom(d.NewSaddle ? Kind.NewSaddleSet : Kind.SaddleSet, Done(d.Done)),
            SaddleAltered d => FactFrom(d.Reflocked ? Kind.SaddleReflocked : Kind.SaddleAltered, Done(d.Done)),
            SaddleFlocked d => FactFrom(d.Whole ? Kind.SaddleFlocked : Kind.SaddleFlockedInPlaces, Text(d.Material), Done(d.Done)),
            SaddleWorkCorrected d => FactFrom(Kind.SaddleWorkCorrected, Text(d.Reason)),
            SaddleMoved d => d.Reason is null ? FactFrom(Kind.SaddleCame) : FactFrom(Kind.SaddleCameBecause, Text(d.Reason)),
            SaddleTrialBegun d => d.Until is { } until ? FactFrom(Kind.SaddleOnTrialUntil, Day(until)) : FactFrom(Kind.SaddleOnTrial),
            SaddleTrialEnded { Reason: { } reason } d => FactFrom(d.Kept ? Kind.TrialKeptBecause : Kind.TrialReturnedBecause, Text(reason)),
            SaddleTrialEnded d => FactFrom(d.Kept ? Kind.TrialKept : Kind.TrialReturned),
            PadFitted d => FactFrom(Kind.PadFitted, Text(d.Pad), Shims(d.Shims)),
            PadRemoved d => FactFrom(Kind.PadRemoved, Text(d.Reason)),
            SaddleWorkWithdrawn d => FactFrom(Kind.SaddleWorkWithdrawn, Text(d.Reason)),
            SaddleTakenOff d => FactFrom(Kind.SaddleTakenOff, Text(d.Reason)),
            ReminderRaised d => FactFrom(Kind.ReminderRaised, Text(d.Evidence.Sentence)),
            LetterOwed => FactFrom(Kind.LetterOwed),
            LetterSent => FactFrom(Kind.LetterSent),
            LetterDeferred d => FactFrom(Kind.LetterDeferred, Text(d.Reason)),
            LetterDelayed d => FactFrom(Kind.LetterDelayed, Text(d.Report)),
            LetterDelivered => FactFrom(Kind.LetterDelivered),
            LetterBounced d => FactFrom(Kind.LetterBounced, Text(d.Reason)),
            ReminderOpened => FactFrom(Kind.ReminderOpened),
            ReminderMuted d => FactFrom(Muted(d.Because)),
            ReminderUnmuted => FactFrom(Kind.ReminderUnmuted),
            ReminderResumed => FactFrom(Kind.ReminderResumed),
            BookingCancelled d => FactFrom(Kind.BookingCancelled, Text(d.Reason)),
            BookingPassed => FactFrom(Kind.BookingPassed),
            LetterGivenUp d => FactFrom(Kind.LetterGivenUp, Text(d.Reason)),
            ReminderAnswered d => FactFrom(Answered(d.Answer)),
            ReminderPutOff d => FactFrom(Kind.ReminderPutOff, Day(d.Until), Text(d.Reason)),
            VisitBooked d => FactFrom(Kind.VisitBooked, Moment(d.For)),
            ReminderResolved => FactFrom(Kind.ReminderResolved),
            ReminderClosed d => FactFrom(Kind.ReminderClosed, Text(d.Reason)),
            VetCleared => FactFrom(Kind.VetCleared),
            ReminderWithdrawn d => FactFrom(Kind.ReminderWithdrawn, Text(d.Reason)),
            _ => throw UnknownEventException.In(nameof(TimelineFacts), e),
        };

    /// <summary>The same event for the horse that the saddle left.</summary>
    public static TimelineFact OfLeaving(SaddleMoved d) =>
        d.Reason is null ? FactFrom(Kind.SaddleWent) : FactFrom(Kind.SaddleWentBecause, Text(d.Reason));

    /// <summary>An event whose line could not be worked out.</summary>
    /// <param name="alias">The event's own.</param>
    public static TimelineFact NotPutIntoWords(string alias) => FactFrom(Kind.NotPutIntoWords, Text(alias.Replace('_', ' ')));

    private static TimelineFact FactFrom(Kind kind, params TimelineValue[] values) => new(kind, values);

    private static TimelineValue Text(string? text) => new(Text: text ?? "");

    private static TimelineValue Number(double number) => new(Number: number);

    private static TimelineValue Day(DateOnly day) => new(Day: day);

    private static TimelineValue Moment(DateTimeOffset at) => new(Moment: at);

    private static TimelineValue Parts(params TimelineFact?[] parts) => new(Parts: [.. parts.OfType<TimelineFact>()]);

    private static TimelineValue Word(TimelineWord word) => new(Word: word);

    private static TimelineValue Word(CareRole role) =>
        Word(
            role switch
            {
                CareRole.Rider => TimelineWord.CareRoleRider,
                CareRole.Trainer => TimelineWord.CareRoleTrainer,
                CareRole.Groom => TimelineWord.CareRoleGroom,
                CareRole.Fitter => TimelineWord.CareRoleFitter,
                CareRole.Veterinarian => TimelineWord.CareRoleVeterinarian,
                CareRole.Physiotherapist => TimelineWord.CareRolePhysiotherapist,
                CareRole.Farrier => TimelineWord.CareRoleFarrier,
                _ => throw Unknown(role),
            }
        );

    private static TimelineValue Word(CareKind kind) =>
        Word(
            kind switch
            {
                CareKind.LayOff => TimelineWord.CareLayOff,
                CareKind.Illness => TimelineWord.CareIllness,
                CareKind.Veterinary => TimelineWord.CareVeterinary,
                CareKind.Farriery => TimelineWord.CareFarriery,
                CareKind.Physiotherapy => TimelineWord.CarePhysiotherapy,
                CareKind.Growth => TimelineWord.CareGrowth,
                CareKind.Other => TimelineWord.CareOther,
                _ => throw Unknown(kind),
            }
        );

    private static TimelineValue Word(WorkLoad load) =>
        Word(
            load switch
            {
                WorkLoad.None => TimelineWord.WorkNone,
                WorkLoad.Light => TimelineWord.WorkLight,
                WorkLoad.Moderate => TimelineWord.WorkModerate,
                WorkLoad.Hard => TimelineWord.WorkHard,
                _ => throw Unknown(load),
            }
        );

    private static Kind Muted(MuteReason because) =>
        because switch
        {
            MuteReason.OutOfWork => Kind.MutedOutOfWork,
            MuteReason.AwaitsVet => Kind.MutedUntilVet,
            MuteReason.CoveredByAnother => Kind.MutedByAnother,
            _ => throw Unknown(because),
        };

    private static Kind Answered(Answer answer) =>
        answer switch
        {
            Answer.Book => Kind.AnsweredBook,
            Answer.Later => Kind.AnsweredLater,
            Answer.VetHasSeen => Kind.AnsweredVetHasSeen,
            Answer.NotNeeded => Kind.AnsweredNotNeeded,
            Answer.Cancelled => Kind.AnsweredCancelled,
            _ => throw Unknown(answer),
        };

    private static ArgumentOutOfRangeException Unknown<T>(T value)
        where T : struct, Enum => new(nameof(value), value, typeof(T).Name);

    /// <summary>Both ways: practices differ.</summary>
    private static TimelineValue Height(double millimetres) =>
        Parts(FactFrom(Kind.Height, Number(millimetres / 10), Text(DisplayUnits.InHands(millimetres))));

    private static TimelineValue Shims(IReadOnlyList<Shim> shims) =>
        shims.Count == 0
            ? Parts()
            : Parts(
                FactFrom(Kind.Shims, Parts([.. shims.Select(s => FactFrom(Kind.Shim, Text(s.Place), Side(s.Side), Number(s.ThicknessMm)))]))
            );

    private static TimelineValue Done(IReadOnlyList<Adjustment> done) =>
        done.Count == 0 ? Parts() : Parts(FactFrom(Kind.WorkDone, Parts([.. done.Select(Adjusted)])));

    private static TimelineFact Adjusted(Adjustment a) =>
        FactFrom(
            Kind.Adjusted,
            Text(a.Part),
            Side(a.Side),
            Parts(a.From is null ? null : FactFrom(Kind.AdjustedFrom, Text(a.From))),
            Parts(a.To is null ? null : FactFrom(Kind.AdjustedTo, Text(a.To)))
        );

    /// <summary>A side is kept as it was sent; left and right are known in every language.</summary>
    private static TimelineValue Side(string? side) =>
        side is null
            ? Parts()
            : Parts(
                FactFrom(
                    Kind.AdjustedSide,
                    side switch
                    {
                        "left" => Word(TimelineWord.SideLeft),
                        "right" => Word(TimelineWord.SideRight),
                        _ => Text(side),
                    }
                )
            );

    private static TimelineValue Scale(Calibration? scale) =>
        scale is null ? Parts()
        : scale.Residual is { } residual ? Parts(FactFrom(Kind.ScaledWithin, Number(scale.Known.Count), Number(Math.Round(residual, 1))))
        : Parts(FactFrom(Kind.ScaledExactly, Number(scale.Known.Count)));
}
