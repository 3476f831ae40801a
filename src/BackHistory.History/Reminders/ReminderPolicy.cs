using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.Trends;

namespace BackHistory.History.Reminders;

/// <summary>What an evaluation does about reminders: one command on one reminder's stream.</summary>
public abstract record ReminderStep(Guid ReminderId);

public sealed record RaiseStep(Guid ReminderId, RaiseReminder Command) : ReminderStep(ReminderId);

public sealed record ResolveStep(Guid ReminderId, Guid? VisitId, Guid? WorkId) : ReminderStep(ReminderId);

public sealed record WithdrawStep(Guid ReminderId, string Reason, IReadOnlyList<LetterToWrite> Letters) : ReminderStep(ReminderId);

/// <summary>
/// From an assessment to reminders: at most one open for a horse, a saddle and a rule; resolved by the visit or the work that it asked for;
/// withdrawn when what it rested on was corrected. Pure.
/// </summary>
public static class ReminderPolicy
{
    /// <summary>Who does what nobody did: the service itself.</summary>
    public static readonly Guid TheService = DeterministicId.Of("the-service");

    /// <summary>Whoever answers a letter by its link: known by the letter, not by a sign-in.</summary>
    public static readonly Guid TheReader = DeterministicId.Of("the-reader-of-a-letter");

    /// <summary>A closed reminder is not raised again for the same fit within this many days (rule of thumb).</summary>
    private const int QuietDays = 90;

    /// <param name="reminders">All reminders that this horse ever had.</param>
    /// <param name="reader">Who is written to: the owner, else the practice's manager; null when there is nobody.</param>
    public static IReadOnlyList<ReminderStep> Steps(
        string tenant, HorseProfile horse, IReadOnlyList<VisitRecord> visits, Assessment assessment, IReadOnlyList<Reminder> reminders, Guid? reader, DateTimeOffset now)
    {
        var steps = new List<ReminderStep>();
        foreach (var open in reminders.Where(r => !r.Over))
        {
            if (Ending(horse, visits, assessment, open, reader) is { } ending) steps.Add(ending);
        }

        if (horse.Gone) return steps;
        var ended = steps.Select(s => s.ReminderId).ToHashSet();
        foreach (var saddle in assessment.Saddles.Where(s => s.Decision.State == WatchState.Refit))
        {
            var rule = saddle.Decision.Caution is null ? ReminderRule.ShapeChanged : ReminderRule.VetCaution;
            if (MayRaise(reminders, ended, saddle.SaddleId, rule, saddle.Decision.BaselineOn, assessment.AsOf))
                steps.Add(Raise(tenant, horse, saddle.SaddleId, rule, EvidenceOf(horse, assessment, saddle), reminders, reader));
        }

        // One horse, one letter: who is asked to come because the shape changed need not be asked again because of the calendar.
        var shape = steps.OfType<RaiseStep>().Any() || reminders.Any(r => !r.Over && !ended.Contains(r.Id) && r.Rule != ReminderRule.CheckDue);
        if (!shape && assessment.NextCheckDue <= assessment.AsOf && !(assessment.HoldUntil > now) && !OutOfWork(horse, assessment.AsOf)
            && MayRaise(reminders, ended, null, ReminderRule.CheckDue, null, assessment.AsOf))
        {
            steps.Add(Raise(tenant, horse, null, ReminderRule.CheckDue, DueEvidence(horse, assessment), reminders, reader));
        }

        return steps;
    }

    private static ReminderStep? Ending(HorseProfile horse, IReadOnlyList<VisitRecord> visits, Assessment assessment, Reminder open, Guid? reader)
    {
        if (horse.Gone) return Withdraw(open, reader);
        var work = horse.Fits.Where(f => f.SaddleId == open.SaddleId && Day(f.TakenAt) > open.Evidence.AsOf.AddDays(-1) && f.TakenAt > open.RaisedAt).MaxBy(f => f.TakenAt);
        var visit = visits.Where(v => !v.Withdrawn && v.TakenAt > open.RaisedAt).MaxBy(v => v.TakenAt);
        if (open.Rule == ReminderRule.CheckDue)
        {
            if (visit is not null) return new ResolveStep(open.Id, visit.Id, null);
            return assessment.NextCheckDue > assessment.AsOf ? Withdraw(open, reader) : null;
        }

        if (work is not null) return new ResolveStep(open.Id, null, work.WorkId);
        var saddle = assessment.Saddles.FirstOrDefault(s => s.SaddleId == open.SaddleId);
        if (saddle is { Decision.State: WatchState.Refit } && saddle.Decision.BaselineOn == open.Evidence.Baseline) return null;
        if (visit is not null && saddle is { Decision.State: WatchState.Steady or WatchState.Watch }) return new ResolveStep(open.Id, visit.Id, null);
        // Ignorance that only grew with time does not take the ground away; a correction does.
        return horse.LastCorrection > open.RaisedAt || saddle is null ? Withdraw(open, reader) : null;
    }

    private static WithdrawStep Withdraw(Reminder open, Guid? reader)
    {
        var told = open.Letters.Values.Any(l => l == LetterState.Sent);
        IReadOnlyList<LetterToWrite> letters = told && reader is { } to
            ? [new LetterToWrite(ReminderIds.LetterOf(open.Id, LetterKind.GroundWithdrawn, to), LetterKind.GroundWithdrawn, to)]
            : [];
        return new WithdrawStep(open.Id, "What it rested on was corrected.", letters);
    }

    private static bool MayRaise(
        IReadOnlyList<Reminder> reminders, HashSet<Guid> endedNow, Guid? saddleId, ReminderRule rule, DateOnly? baseline, DateOnly asOf)
    {
        var same = reminders.Where(r => r.SaddleId == saddleId && r.Rule == rule).ToList();
        if (same.Any(r => !r.Over && !endedNow.Contains(r.Id))) return false;
        // The one that ends in this round is looked at again in the next, when its end is written down.
        if (same.Any(r => endedNow.Contains(r.Id))) return false;
        return !same.Any(r => r.State == ReminderState.Closed && r.Evidence.Baseline == baseline && r.Evidence.AsOf > asOf.AddDays(-QuietDays));
    }

    private static RaiseStep Raise(
        string tenant, HorseProfile horse, Guid? saddleId, ReminderRule rule, Evidence evidence, IReadOnlyList<Reminder> reminders, Guid? reader)
    {
        var earlier = reminders.Count(r => r.SaddleId == saddleId && r.Rule == rule);
        var id = ReminderIds.Of(tenant, horse.Id, saddleId, rule, earlier);
        var kind = rule == ReminderRule.CheckDue ? LetterKind.OwnerCheck : rule == ReminderRule.VetCaution ? LetterKind.VetCaution : LetterKind.OwnerRefit;
        IReadOnlyList<LetterToWrite> letters = reader is { } to ? [new LetterToWrite(ReminderIds.LetterOf(id, kind, to), kind, to)] : [];
        return new RaiseStep(id, new RaiseReminder(id, horse.Id, saddleId, rule, evidence, letters, TheService));
    }

    private static Evidence EvidenceOf(HorseProfile horse, Assessment assessment, SaddleAssessment saddle)
    {
        var d = saddle.Decision;
        var m = d.Driver;
        return new Evidence(
            assessment.AsOf, assessment.RulesVersion, m?.Measure, m?.Station, m?.Unit, m?.Alone?.Change, m?.Alone?.Sd, m?.Threshold, d.P, d.BaselineOn,
            d.NextCheck.Due, d.Statements.Count > 0 ? d.Statements[0].Text : $"{horse.Name} has changed shape since the saddle was set.");
    }

    private static Evidence DueEvidence(HorseProfile horse, Assessment assessment)
    {
        var last = horse.LastVisit is { } at ? $"was last measured on {at.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}" : "has never been measured";
        return new Evidence(
            assessment.AsOf, assessment.RulesVersion, null, null, null, null, null, null, null, null, assessment.NextCheckDue,
            $"{horse.Name} {last}; a check was due on {assessment.NextCheckDue.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}.");
    }

    private static bool OutOfWork(HorseProfile horse, DateOnly asOf) =>
        horse.WorkNow?.Load == WorkLoad.None || horse.Care.Any(c => c.Kind == CareKind.LayOff && c.From <= asOf && (c.Until is null || c.Until > asOf));

    private static DateOnly Day(DateTimeOffset at) => DateOnly.FromDateTime(at.UtcDateTime);
}
