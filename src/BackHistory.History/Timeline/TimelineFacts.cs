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
    public static TimelineFact Of(object e) =>
        e switch
        {
            HorseRegistered d => Of(Kind.HorseRegistered, Text(d.Name)),
            HorseDetailsCorrected d => Of(Kind.HorseDetailsCorrected, Text(d.Reason)),
            HorseWithdrawn d => Of(Kind.HorseWithdrawn, Text(d.Reason)),
            HorseMerged d => Of(Kind.HorseMerged, Text(d.Reason)),
            HorseMergedAway d => Of(Kind.HorseMergedAway, Text(d.Reason)),
            OwnerChanged d => Of(d.OwnerId is null ? Kind.OwnerUnknown : Kind.OwnerChanged),
            YardChanged => Of(Kind.YardChanged),
            CareRoleTaken d => Of(Kind.CareRoleTaken, Word(d.Role)),
            CareRoleEnded d => Of(Kind.CareRoleEnded, Word(d.Role)),
            WorkChanged d => Of(
                Kind.WorkChanged,
                Word(d.Load),
                Parts(d.Discipline is { } discipline ? Of(Kind.WorkDiscipline, Text(discipline)) : null),
                Parts(d.HoursPerWeek is { } hours ? Of(Kind.WorkHours, Number(hours)) : null)
            ),
            WorkWithdrawn d => Of(Kind.WorkWithdrawn, Text(d.Reason)),
            CareEnded d => Of(Kind.CareEnded, Day(d.Until)),
            CareCorrected d => Of(Kind.CareCorrected, Word(d.Kind), Text(d.Reason)),
            CareWithdrawn d => Of(Kind.CareWithdrawn, Text(d.Reason)),
            HorseFileAttached d => Of(d.File.Kind == FileKind.Photograph ? Kind.PhotographAttached : Kind.DocumentAttached),
            HorseFileRemoved d => Of(Kind.HorseFileRemoved, Text(d.Reason)),
            CareNoted { Until: { } until } d => Of(Kind.CareNotedUntil, Word(d.Kind), Day(d.From), Day(until)),
            CareNoted d => Of(Kind.CareNoted, Word(d.Kind), Day(d.From)),
            VisitRecorded d => Of(d.Conditions.Source == Source.SentIn ? Kind.MeasurementsSentIn : Kind.VisitRecorded),
            VisitCorrected d => Of(Kind.VisitCorrected, Text(d.Reason)),
            VisitWithdrawn d => Of(Kind.VisitWithdrawn, Text(d.Reason)),
            CrossSectionTraced d => Of(Kind.CrossSectionTraced, Text(d.Station), Number(d.Points.Count), Scale(d.Calibration)),
            ToplineTraced d => Of(Kind.ToplineTraced, Number(d.Points.Count), Scale(d.Calibration)),
            ReadingTaken d => Of(Kind.ReadingTaken, Text(d.Measure), Text(d.Station), Number(d.Value), Text(d.Unit)),
            ConditionScored d => Of(Kind.ConditionScored, Number(d.Score)),
            MuscleScored d => Of(Kind.MuscleScored, Text(d.Site), Number(d.Score), Text(d.Scale)),
            Weighed d => Of(Kind.Weighed, Number(d.Kilograms)),
            GirthTaped d => Of(Kind.GirthTaped, Number(d.GirthMm / 10), Number(d.LengthMm / 10)),
            HeightMeasured { CroupMm: { } croup } d => Of(Kind.HeightsMeasured, Height(d.WithersMm), Height(croup)),
            HeightMeasured d => Of(Kind.HeightMeasured, Height(d.WithersMm)),
            VisitNoted => Of(Kind.VisitNoted),
            VisitMerged d => Of(Kind.VisitMerged, Text(d.Reason)),
            ConfirmationAsked => Of(Kind.ConfirmationAsked),
            VisitConfirmed => Of(Kind.VisitConfirmed),
            EntryCorrected d => Of(Kind.EntryCorrected, Text(d.Reason)),
            EntryWithdrawn d => Of(Kind.EntryWithdrawn, Text(d.Reason)),
            SaddleSet d => Of(d.NewSaddle ? Kind.NewSaddleSet : Kind.SaddleSet, Done(d.Done)),
            SaddleAltered d => Of(d.Reflocked ? Kind.SaddleReflocked : Kind.SaddleAltered, Done(d.Done)),
            SaddleFlocked d => Of(d.Whole ? Kind.SaddleFlocked : Kind.SaddleFlockedInPlaces, Text(d.Material), Done(d.Done)),
            SaddleWorkCorrected d => Of(Kind.SaddleWorkCorrected, Text(d.Reason)),
            SaddleMoved d => d.Reason is null ? Of(Kind.SaddleCame) : Of(Kind.SaddleCameBecause, Text(d.Reason)),
            SaddleTrialBegun d => d.Until is { } until ? Of(Kind.SaddleOnTrialUntil, Day(until)) : Of(Kind.SaddleOnTrial),
            SaddleTrialEnded { Reason: { } reason } d => Of(d.Kept ? Kind.TrialKeptBecause : Kind.TrialReturnedBecause, Text(reason)),
            SaddleTrialEnded d => Of(d.Kept ? Kind.TrialKept : Kind.TrialReturned),
            PadFitted d => Of(Kind.PadFitted, Text(d.Pad), Shims(d.Shims)),
            PadRemoved d => Of(Kind.PadRemoved, Text(d.Reason)),
            SaddleWorkWithdrawn d => Of(Kind.SaddleWorkWithdrawn, Text(d.Reason)),
            SaddleTakenOff d => Of(Kind.SaddleTakenOff, Text(d.Reason)),
            ReminderRaised d => Of(Kind.ReminderRaised, Text(d.Evidence.Sentence)),
            LetterOwed => Of(Kind.LetterOwed),
            LetterSent => Of(Kind.LetterSent),
            LetterDeferred d => Of(Kind.LetterDeferred, Text(d.Reason)),
            LetterDelayed d => Of(Kind.LetterDelayed, Text(d.Report)),
            LetterDelivered => Of(Kind.LetterDelivered),
            LetterBounced d => Of(Kind.LetterBounced, Text(d.Reason)),
            ReminderOpened => Of(Kind.ReminderOpened),
            ReminderMuted d => Of(Muted(d.Because)),
            ReminderUnmuted => Of(Kind.ReminderUnmuted),
            ReminderResumed => Of(Kind.ReminderResumed),
            BookingCancelled d => Of(Kind.BookingCancelled, Text(d.Reason)),
            BookingPassed => Of(Kind.BookingPassed),
            LetterGivenUp d => Of(Kind.LetterGivenUp, Text(d.Reason)),
            ReminderAnswered d => Of(Answered(d.Answer)),
            ReminderPutOff d => Of(Kind.ReminderPutOff, Day(d.Until), Text(d.Reason)),
            VisitBooked d => Of(Kind.VisitBooked, Moment(d.For)),
            ReminderResolved => Of(Kind.ReminderResolved),
            ReminderClosed d => Of(Kind.ReminderClosed, Text(d.Reason)),
            VetCleared => Of(Kind.VetCleared),
            ReminderWithdrawn d => Of(Kind.ReminderWithdrawn, Text(d.Reason)),
            _ => throw UnknownEventException.In(nameof(TimelineFacts), e),
        };

    /// <summary>The same event for the horse that the saddle left.</summary>
    public static TimelineFact OfLeaving(SaddleMoved d) =>
        d.Reason is null ? Of(Kind.SaddleWent) : Of(Kind.SaddleWentBecause, Text(d.Reason));

    /// <summary>An event whose line could not be worked out.</summary>
    /// <param name="alias">The event's own.</param>
    public static TimelineFact NotPutIntoWords(string alias) => Of(Kind.NotPutIntoWords, Text(alias.Replace('_', ' ')));

    private static TimelineFact Of(Kind kind, params TimelineValue[] values) => new(kind, values);

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
                _ => TimelineWord.CareRoleFarrier,
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
                _ => TimelineWord.CareOther,
            }
        );

    private static TimelineValue Word(WorkLoad load) =>
        Word(
            load switch
            {
                WorkLoad.None => TimelineWord.WorkNone,
                WorkLoad.Light => TimelineWord.WorkLight,
                WorkLoad.Moderate => TimelineWord.WorkModerate,
                _ => TimelineWord.WorkHard,
            }
        );

    private static Kind Muted(MuteReason because) =>
        because switch
        {
            MuteReason.OutOfWork => Kind.MutedOutOfWork,
            MuteReason.AwaitsVet => Kind.MutedUntilVet,
            _ => Kind.MutedByAnother,
        };

    private static Kind Answered(Answer answer) =>
        answer switch
        {
            Answer.Book => Kind.AnsweredBook,
            Answer.Later => Kind.AnsweredLater,
            Answer.VetHasSeen => Kind.AnsweredVetHasSeen,
            _ => Kind.AnsweredNotNeeded,
        };

    /// <summary>Both ways: practices differ.</summary>
    private static TimelineValue Height(double millimetres) =>
        Parts(Of(Kind.Height, Number(millimetres / 10), Text(DisplayUnits.InHands(millimetres))));

    private static TimelineValue Shims(IReadOnlyList<Shim> shims) =>
        shims.Count == 0
            ? Parts()
            : Parts(Of(Kind.Shims, Parts([.. shims.Select(s => Of(Kind.Shim, Text(s.Place), Side(s.Side), Number(s.ThicknessMm)))])));

    private static TimelineValue Done(IReadOnlyList<Adjustment> done) =>
        done.Count == 0 ? Parts() : Parts(Of(Kind.WorkDone, Parts([.. done.Select(Adjusted)])));

    private static TimelineFact Adjusted(Adjustment a) =>
        Of(
            Kind.Adjusted,
            Text(a.Part),
            Side(a.Side),
            Parts(a.From is null ? null : Of(Kind.AdjustedFrom, Text(a.From))),
            Parts(a.To is null ? null : Of(Kind.AdjustedTo, Text(a.To)))
        );

    /// <summary>A side is kept as it was sent; left and right are known in every language.</summary>
    private static TimelineValue Side(string? side) =>
        side is null
            ? Parts()
            : Parts(
                Of(
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
        : scale.Residual is { } residual ? Parts(Of(Kind.ScaledWithin, Number(scale.Known.Count), Number(Math.Round(residual, 1))))
        : Parts(Of(Kind.ScaledExactly, Number(scale.Known.Count)));
}
