using System.Globalization;
using BackHistory.History.Files;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;

namespace BackHistory.History.Timeline;

/// <summary>Events in a person's words. English, as the history's own notes are.</summary>
internal static class TimelineWords
{
    public static string Of(object e) =>
        e switch
        {
            HorseRegistered d => $"{d.Name} was registered.",
            HorseDetailsCorrected d => $"Details corrected: {d.Reason}",
            HorseWithdrawn d => $"The registration was withdrawn: {d.Reason}",
            HorseMerged d => $"A second registration of this horse was taken in: {d.Reason}",
            HorseMergedAway d => $"This was a second registration of the same horse: {d.Reason}",
            OwnerChanged d => d.OwnerId is null ? "The horse has no known owner any more." : "The owner changed.",
            YardChanged => "Moved to another yard.",
            CareRoleTaken d => $"A person became its {Lower(d.Role)}.",
            CareRoleEnded d => $"A person is no longer its {Lower(d.Role)}.",
            WorkChanged d => Work(d),
            WorkWithdrawn d => $"A change of work was withdrawn: {d.Reason}",
            CareEnded d => $"It ended on {Day(d.Until)}.",
            CareCorrected d => $"{Care(d.Kind)} corrected: {d.Reason}",
            CareWithdrawn d => $"A note was withdrawn: {d.Reason}",
            HorseFileAttached d => d.File.Kind == FileKind.Photograph ? "A photograph was attached." : "A document was attached.",
            HorseFileRemoved d => $"A file was removed: {d.Reason}",
            CareNoted d => d.Until is { } until
                ? $"{Care(d.Kind)} from {Day(d.From)} to {Day(until)}."
                : $"{Care(d.Kind)} from {Day(d.From)}.",
            VisitRecorded d => d.Conditions.Source == Source.SentIn ? "Measurements were sent in." : "Visit.",
            VisitCorrected d => $"Visit corrected: {d.Reason}",
            VisitWithdrawn d => $"Visit withdrawn: {d.Reason}",
            CrossSectionTraced d => $"Cross-section traced at {d.Station}, {d.Points.Count} points{Scale(d.Calibration)}.",
            ToplineTraced d => $"Topline traced, {d.Points.Count} points{Scale(d.Calibration)}.",
            ReadingTaken d => $"{d.Measure} read at {d.Station}: {Number(d.Value)} {d.Unit}.",
            ConditionScored d => $"Condition {Number(d.Score)} of 9.",
            MuscleScored d => $"Muscle at the {d.Site} {Number(d.Score)} ({d.Scale}).",
            Weighed d => $"Weighed: {Number(d.Kilograms)} kg.",
            GirthTaped d => $"Girth {Number(d.GirthMm / 10)} cm, length {Number(d.LengthMm / 10)} cm by tape.",
            HeightMeasured d => d.CroupMm is { } croup
                ? $"Height {Height(d.WithersMm)} at the withers, {Height(croup)} at the croup."
                : $"Height {Height(d.WithersMm)} at the withers.",
            VisitNoted => "A note was written.",
            VisitMerged d => $"This visit was entered twice: {d.Reason}",
            ConfirmationAsked => "An apprentice entered this; somebody is to confirm it.",
            VisitConfirmed => "The visit was confirmed.",
            EntryCorrected d => $"Entry corrected: {d.Reason}",
            EntryWithdrawn d => $"Entry withdrawn: {d.Reason}",
            SaddleSet d => $"Saddle set{(d.NewSaddle ? " (new)" : "")}{Done(d.Done)}.",
            SaddleAltered d => $"Saddle altered{(d.Reflocked ? " (re-flocked)" : "")}{Done(d.Done)}.",
            SaddleFlocked d => $"Saddle flocked with {d.Material}{(d.Whole ? "" : " in places")}{Done(d.Done)}.",
            SaddleWorkCorrected d => $"Saddle work corrected: {d.Reason}",
            SaddleMoved d => d.Reason is null
                ? "The saddle came from another horse; it is not set yet."
                : $"The saddle came from another horse; it is not set yet: {d.Reason}",
            SaddleTrialBegun d => d.Until is { } until ? $"A saddle is on trial until {Day(until)}." : "A saddle is on trial.",
            SaddleTrialEnded d => (d.Kept ? "The saddle on trial was kept" : "The saddle on trial came back")
                + (d.Reason is null ? "." : $": {d.Reason}"),
            PadFitted d => $"Pad under the saddle: {d.Pad}{Shims(d.Shims)}.",
            PadRemoved d => $"The pad under the saddle was removed: {d.Reason}",
            SaddleWorkWithdrawn d => $"Saddle work withdrawn: {d.Reason}",
            SaddleTakenOff d => $"The saddle is no longer used on this horse: {d.Reason}",
            ReminderRaised d => $"Reminder: {d.Evidence.Sentence}",
            LetterOwed => "A letter is to be written.",
            LetterSent => "The letter was sent.",
            LetterDeferred d => $"The letter waits: {d.Reason}",
            LetterDelayed d => $"The letter is on its way: {d.Report}",
            LetterDelivered => "The letter was delivered.",
            LetterBounced d => $"The letter came back: {d.Reason}",
            ReminderOpened => "The reminder's ground held; it is open.",
            ReminderMuted d => d.Because switch
            {
                MuteReason.OutOfWork => "The reminder is silent while the horse is out of work.",
                MuteReason.AwaitsVet => "The reminder is silent until the vet has cleared the horse.",
                _ => "The reminder is silent: another says more.",
            },
            ReminderUnmuted => "The reminder is heard again.",
            ReminderResumed => "The day until which it was put off has come.",
            BookingCancelled d => $"The booked visit was cancelled: {d.Reason}",
            BookingPassed => "The booked day passed without what the reminder asks for.",
            LetterGivenUp d => $"The letter could not be sent: {d.Reason}",
            ReminderAnswered d => d.Answer switch
            {
                Answer.Book => "Answered: please book.",
                Answer.Later => "Answered: later.",
                Answer.VetHasSeen => "Answered: the vet has seen the horse.",
                _ => "Answered: not needed.",
            },
            ReminderPutOff d => $"Put off until {Day(d.Until)}: {d.Reason}",
            VisitBooked d => $"A visit was booked for {d.For.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture)}.",
            ReminderResolved => "What the reminder asked for was done.",
            ReminderClosed d => $"Reminder closed: {d.Reason}",
            VetCleared => "The vet has cleared the horse.",
            ReminderWithdrawn d => $"Reminder withdrawn: {d.Reason}",
            _ => throw UnknownEventException.In(nameof(TimelineWords), e),
        };

    /// <summary>The same event for the horse that the saddle left.</summary>
    public static string OfLeaving(SaddleMoved d) =>
        d.Reason is null ? "The saddle went to another horse." : $"The saddle went to another horse: {d.Reason}";

    private static string Work(WorkChanged d)
    {
        var discipline = d.Discipline is null ? "" : $", {d.Discipline}";
        var hours = d.HoursPerWeek is { } h ? $", {Number(h)} hours a week" : "";
        return $"Work changed to {Lower(d.Load)}{discipline}{hours}.";
    }

    /// <summary>Both ways: the line is kept, and practices differ.</summary>
    private static string Height(double millimetres) => $"{Number(millimetres / 10.0)} cm ({DisplayUnits.InHands(millimetres)} hands)";

    private static string Shims(IReadOnlyList<Shim> shims) =>
        shims.Count == 0
            ? ""
            : " with shims "
                + string.Join("; ", shims.Select(s => $"{s.Place}{(s.Side is null ? "" : " " + s.Side)} {Number(s.ThicknessMm)} mm"));

    private static string Done(IReadOnlyList<Adjustment> done) =>
        done.Count == 0
            ? ""
            : ": "
                + string.Join(
                    "; ",
                    done.Select(a =>
                        $"{a.Part}{(a.Side is null ? "" : " " + a.Side)}"
                        + (a.From is null ? "" : " from " + a.From)
                        + (a.To is null ? "" : " to " + a.To)
                    )
                );

    private static string Scale(Calibration? scale) =>
        scale is null
            ? ""
            : $", from a picture with {scale.Known.Count} known points"
                + (scale.Residual is { } r ? $" that lie within {Number(Math.Round(r, 1))} mm" : ", none to spare");

    private static string Care(CareKind kind) =>
        kind switch
        {
            CareKind.LayOff => "Lay-off",
            CareKind.Illness => "Illness",
            CareKind.Veterinary => "Veterinary note",
            CareKind.Farriery => "Farrier",
            CareKind.Physiotherapy => "Physiotherapy",
            CareKind.Growth => "Growth",
            _ => "Note",
        };

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Lower<T>(T word)
        where T : struct, Enum => word.ToString().ToLowerInvariant();
}
