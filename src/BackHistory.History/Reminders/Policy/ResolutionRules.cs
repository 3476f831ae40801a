using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// How a reminder ends by itself: by the visit or the work that it asked for, or because what it rested on was corrected. Ignorance that
/// only grew with time ends nothing.
/// </summary>
internal static class ResolutionRules
{
    private const string Corrected = "What it rested on was corrected.";

    /// <summary>Why it ended with its horse's registration: should that come back, so does what it asks for.</summary>
    internal const string HorseGone = "The horse's registration was withdrawn.";

    private const string Leans = "The tracings that it rests on lean: they are to be taken again first.";
    private const string RulesChanged = "The practice's rules no longer ask for it.";

    public static ReminderStep? StepFor(Situation now, Reminder open, ReminderTrigger? trigger)
    {
        // Registered by mistake, or one horse with another: nothing is asked of it any more.
        if (now.Horse.Gone)
            return now.Horse.MergedInto is null ? CallOff(now, open) : Withdraw(open);
        if (open.State == ReminderState.Pending)
            return trigger is null ? Quietly(open, "Its ground did not hold.") : null;
        if (!now.Rules.SettingOf(open.Rule).On)
            return Quietly(open, RulesChanged);
        var step = Families.FamilyOf(open.Rule) switch
        {
            ReminderFamily.Calendar => Calendar(now, open),
            ReminderFamily.Recheck => Recheck(now, open),
            ReminderFamily.Again => Again(now, open, trigger),
            ReminderFamily.Vet => Vet(now, open, trigger),
            ReminderFamily.Shape => Shape(now, open, trigger),
            var family => throw new ArgumentOutOfRangeException(nameof(open), family, "a family without a step"),
        };
        // Somebody is coming, and whoever was told so is waiting: what was entered of days before calls nobody off.
        return step is not null && IsWaitedFor(now, open) && !DoneOnTheDay(now, open, step) ? null : step;
    }

    /// <summary>Whether a visit is booked; one that is silent may hold the only word of it.</summary>
    private static bool IsWaitedFor(Situation now, Reminder open) =>
        open.BookedFor > now.Now && (open.State == ReminderState.Muted ? open.Before : open.State) == ReminderState.Booked;

    /// <summary>Whether it ends by a visit or work of the booked day, or by a veterinary surgeon's look.</summary>
    private static bool DoneOnTheDay(Situation now, Reminder open, ReminderStep step)
    {
        var day = now.Day(open.BookedFor!.Value);
        return step is ResolveStep done
            && (
                now.Visits.Any(v => v.Id == done.VisitId && v.TakenAt > open.RaisedAt && now.Day(v.TakenAt) >= day)
                || now.Horse.Fits.Any(f => f.WorkId == done.WorkId && f.TakenAt > open.RaisedAt && now.Day(f.TakenAt) >= day)
                || (done.VisitId is null && done.WorkId is null)
            );
    }

    /// <summary>Whether what ended it was taken back or given to another horse, or its horse's registration was put back: what it asked
    /// for was not done.</summary>
    internal static bool EndWasUndone(Situation now, Reminder over) =>
        over.State switch
        {
            ReminderState.Done => (over.ResolvedByVisit is { } visit && !now.Visits.Any(v => v.Id == visit && !v.Withdrawn))
                || (over.ResolvedByWork is { } work && now.Horse.Fits.All(f => f.WorkId != work)),
            ReminderState.Withdrawn => over.ClosedBecause == HorseGone,
            _ => false,
        };

    private static ReminderStep? Calendar(Situation now, Reminder open)
    {
        if (VisitSince(now, open) is { } visit)
            return new ResolveStep(open.Id, visit.Id, null);
        var asked = open.Evidence.Due is { } due && due > now.AsOf ? due : now.AsOf;
        if (now.Assessment.NextCheckDue <= asked)
            return null;
        // A visit of before that was entered late: the check had been done.
        if (now.Visits.Where(v => !v.Withdrawn && v.RecordedAt > open.RaisedAt).MaxBy(v => v.TakenAt) is { } late)
            return new ResolveStep(open.Id, late.Id, null);
        return WasCorrected(now, open) ? Withdraw(open) : Quietly(open, RulesChanged);
    }

    private static ReminderStep? Recheck(Situation now, Reminder open)
    {
        if (VisitSince(now, open) is { } visit)
            return new ResolveStep(open.Id, visit.Id, null);
        var latest = now.Horse.Fits.Where(f => f.SaddleId == open.SaddleId).MaxBy(f => f.TakenAt);
        if (latest?.WorkId == open.WorkId)
        {
            var seen = now.Visits.Where(v => !v.Withdrawn && v.TakenAt > latest!.TakenAt).MaxBy(v => v.TakenAt);
            return seen is null ? null : new ResolveStep(open.Id, seen.Id, null);
        }

        var alteration = now.Horse.Fits.FirstOrDefault(f => f.WorkId == open.WorkId);
        return alteration is not null ? new ResolveStep(open.Id, null, latest!.WorkId) : Withdraw(open);
    }

    private static ReminderStep? Again(Situation now, Reminder open, ReminderTrigger? trigger)
    {
        if (VisitSince(now, open) is { } visit)
            return new ResolveStep(open.Id, visit.Id, null);
        if (trigger is not null)
            return null;
        if (WasCorrected(now, open))
            return Withdraw(open);
        // Traced a second time within the same visit.
        return now.Visits.Where(v => !v.Withdrawn).MaxBy(v => v.TakenAt) is { } last
            ? new ResolveStep(open.Id, last.Id, null)
            : Withdraw(open);
    }

    private static ReminderStep? Vet(Situation now, Reminder open, ReminderTrigger? trigger)
    {
        if (NewerWork(now, open) is { } work)
            return new ResolveStep(open.Id, null, work);
        if (now.Horse.Care.Any(c => c.Kind == CareKind.Veterinary && c.From >= now.Day(open.RaisedAt)))
            return new ResolveStep(open.Id, null, null);
        if (trigger is not null)
            return null;
        if (VisitSince(now, open) is { } visit)
            return new ResolveStep(open.Id, visit.Id, null);
        if (WasCorrected(now, open) || (open.SaddleId is not null && SaddleOf(now, open) is null))
            return Withdraw(open);
        return Waits(now, open) ? Withdraw(open, Leans) : null;
    }

    private static ReminderStep? Shape(Situation now, Reminder open, ReminderTrigger? trigger)
    {
        if (NewerWork(now, open) is { } work)
            return new ResolveStep(open.Id, null, work);
        if (trigger is not null && trigger.Evidence.Baseline == open.Evidence.Baseline)
            return null;
        var saddle = SaddleOf(now, open);
        var calm = saddle is { Decision.State: WatchState.Steady or WatchState.Watch };
        if (calm && VisitSince(now, open) is { } visit)
            return new ResolveStep(open.Id, visit.Id, null);
        if (WasCorrected(now, open) || saddle is null)
            return Withdraw(open);
        if (Waits(now, open))
            return Withdraw(open, Leans);
        return calm && open.Evidence.RulesVersion != now.Assessment.RulesVersion ? Quietly(open, RulesChanged) : null;
    }

    /// <summary>Work on the saddle after the reminder, or work that makes a newer baseline than the one it rests on, entered
    /// late.</summary>
    private static Guid? NewerWork(Situation now, Reminder open)
    {
        var work = SaddleFit.Counting([.. now.Horse.Fits.Where(f => f.SaddleId == open.SaddleId)]).MaxBy(f => f.TakenAt);
        if (work is null)
            return null;
        return
            work.TakenAt > open.RaisedAt
            || (open.Evidence.Baseline is { } baseline && now.Day(work.TakenAt) > baseline && !SameBaseline(now, open))
            ? work.WorkId
            : null;
    }

    private static bool SameBaseline(Situation now, Reminder open) => SaddleOf(now, open)?.Decision.BaselineOn == open.Evidence.Baseline;

    private static SaddleAssessment? SaddleOf(Situation now, Reminder open) =>
        now.Assessment.Saddles.FirstOrDefault(s => s.SaddleId == open.SaddleId);

    /// <summary>What it said of the saddle is not said any more before somebody traces again.</summary>
    private static bool Waits(Situation now, Reminder open) =>
        SaddleOf(now, open)?.Decision is { Leaning: not null, State: not WatchState.Refit };

    private static VisitRecord? VisitSince(Situation now, Reminder open) =>
        now.Visits.Where(v => !v.Withdrawn && v.TakenAt > open.RaisedAt).MaxBy(v => v.TakenAt);

    private static bool WasCorrected(Situation now, Reminder open) => now.Horse.LastCorrection > open.RaisedAt;

    /// <summary>Whoever was told hears that it was a mistake: those people, not those who would be told today.</summary>
    private static WithdrawStep Withdraw(Reminder open, string reason = Corrected)
    {
        var told = open.Post.Where(l => l.Reached && l.Kind != LetterKind.GroundWithdrawn).Select(l => l.To).Distinct();
        return new WithdrawStep(open.Id, reason, [.. told.SelectMany(to => LettersOf.To(to, open, LetterKind.GroundWithdrawn))]);
    }

    /// <summary>Whoever was told the date of a visit that is still to come waits for it, and has it in a calendar: they hear that it is
    /// off, and not besides that a letter of before was a mistake.</summary>
    private static WithdrawStep CallOff(Situation now, Reminder open)
    {
        var step = Withdraw(open, HorseGone);
        if (open.BookedFor is not { } at || at <= now.Now)
            return step;
        // A booking that was taken over was told of by another, which tells it itself as long as it stands.
        var waiting = now
            .Reminders.Where(r => r.BookingId == open.BookingId && (r.Id == open.Id || r.Over))
            .SelectMany(r => r.Post)
            .Where(l => LetterKinds.DefinitionOf(l.Kind).SetsCalendar && !l.Failed)
            .GroupBy(l => l.To)
            .Where(ls => ls.MaxBy(l => l.OwedAt)!.Kind == LetterKinds.TellingBooking)
            .Select(ls => ls.Key)
            .ToList();
        return step with
        {
            CallsOff = true,
            Letters =
            [
                .. waiting.SelectMany(to => LettersOf.To(to, open, LetterKind.BookingCancelled)),
                .. step.Letters.Where(l => !waiting.Contains(l.To)),
            ],
        };
    }

    private static WithdrawStep Quietly(Reminder open, string reason) => new(open.Id, reason, []);
}
