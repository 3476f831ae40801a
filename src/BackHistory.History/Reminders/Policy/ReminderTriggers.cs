using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Shape;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Leaning;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Every reason to see one horse on one day, by the practice's rules. Pure; what silences which is decided in
/// <see cref="ReminderPolicy"/>.</summary>
public static class ReminderTriggers
{
    /// <summary>Flags that make a tracing too poor to judge by when every tracing of the visit carries one.</summary>
    private static readonly string[] Spoiling = ["gap", "level-tilt", "halves-apart", "midline-off", "uncertain"];

    public static IReadOnlyList<ReminderTrigger> Current(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Assessment assessment,
        ReminderRules rules,
        WatchRules watch,
        TimeZoneInfo zone
    )
    {
        var last = visits
            .Where(v => !v.Withdrawn && ZoneClock.Day(v.TakenAt, zone) <= assessment.AsOf)
            .OrderBy(v => v.TakenAt)
            .ThenBy(v => v.Id)
            .LastOrDefault();
        var found = new List<ReminderTrigger?>();
        found.Add(Vet(horse, visits, assessment, rules, watch, zone));
        found.AddRange(assessment.Saddles.Select(s => Shape(horse, assessment, s, rules, watch, zone)));
        found.AddRange(assessment.Saddles.Select(s => Recheck(horse, visits, assessment, s, rules, zone)));
        found.Add(Again(horse, assessment, last, watch, zone));
        found.Add(Calendar(horse, assessment, last, rules, zone));
        return [.. found.OfType<ReminderTrigger>().Where(g => rules.SettingOf(g.Rule).On)];
    }

    private static ReminderTrigger? Vet(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Assessment assessment,
        ReminderRules rules,
        WatchRules watch,
        TimeZoneInfo zone
    )
    {
        if (rules.VetCaution.On && assessment.Saddles.FirstOrDefault(s => s.Decision.Caution is not null) is { } one)
            return new ReminderTrigger(
                ReminderRule.VetCaution,
                one.SaddleId,
                null,
                EvidenceOf(ReminderRule.VetCaution, horse, assessment, one, watch, zone)
            );
        if (FastLoss.Find(visits, rules.FastLoss, watch, assessment.AsOf, zone) is not { } loss)
            return null;
        var evidence = new Evidence(
            assessment.AsOf,
            assessment.RulesVersion,
            "weight",
            null,
            "kg",
            loss.Now - loss.Before,
            null,
            null,
            null,
            loss.Since,
            null,
            "",
            new Finding(FindingKind.Hollower, null, null),
            LastVisit: LastVisitOn(horse, zone)
        );
        return new ReminderTrigger(ReminderRule.FastLoss, null, null, evidence);
    }

    private static ReminderTrigger? Shape(
        HorseProfile horse,
        Assessment assessment,
        SaddleAssessment saddle,
        ReminderRules rules,
        WatchRules watch,
        TimeZoneInfo zone
    )
    {
        var decision = saddle.Decision;
        if (decision.State != WatchState.Refit)
        {
            // The decision waits for a tracing: until then nobody is called in about the saddle.
            if (decision.Leaning is not null)
                return null;
            var age = horse.Foaled is { } born ? (assessment.AsOf.DayNumber - born.DayNumber) / 365.25 : double.PositiveInfinity;
            if (!(age < rules.Growing.UnderYears && decision.P >= rules.Growing.Bar))
                return null;
            return new ReminderTrigger(
                ReminderRule.Growing,
                saddle.SaddleId,
                null,
                EvidenceOf(ReminderRule.Growing, horse, assessment, saddle, watch, zone)
            );
        }

        var rule = Findings.FindingFrom(decision) switch
        {
            { Kind: FindingKind.LessAlike } or { Kind: FindingKind.Hollower or FindingKind.Fuller, Side: not null } =>
                ReminderRule.SidesUnlike,
            { Kind: FindingKind.Heavier or FindingKind.Lighter } => ReminderRule.WeightChanged,
            _ => ReminderRule.ShapeChanged,
        };
        // A special rule that is switched off leaves the horse to the general one.
        if (!rules.SettingOf(rule).On)
            rule = ReminderRule.ShapeChanged;
        return new ReminderTrigger(rule, saddle.SaddleId, null, EvidenceOf(rule, horse, assessment, saddle, watch, zone));
    }

    private static ReminderTrigger? Recheck(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Assessment assessment,
        SaddleAssessment saddle,
        ReminderRules rules,
        TimeZoneInfo zone
    )
    {
        if (RecheckDue(horse, visits, saddle.SaddleId, rules.NotRechecked, zone) is not { } due || due.On > assessment.AsOf)
            return null;
        var evidence = Evidence.WithoutMeasure(
            assessment.AsOf,
            assessment.RulesVersion,
            due.On,
            "",
            baseline: ZoneClock.Day(due.Work.TakenAt, zone),
            lastVisit: LastVisitOn(horse, zone)
        );
        return new ReminderTrigger(ReminderRule.NotRechecked, saddle.SaddleId, due.Work.WorkId, evidence);
    }

    /// <summary>The last work on a saddle if it was an alteration that no visit has looked at since, and the day on which one should
    /// have.</summary>
    internal static (SaddleFit Work, DateOnly On)? RecheckDue(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Guid saddleId,
        RecheckSetting setting,
        TimeZoneInfo zone
    )
    {
        var work = horse.Fits.Where(f => f.SaddleId == saddleId).MaxBy(f => f.TakenAt);
        if (work is not { Set: false } || visits.Any(v => !v.Withdrawn && v.TakenAt > work.TakenAt))
            return null;
        return (work, ZoneClock.Day(work.TakenAt, zone).AddDays(setting.AfterDays));
    }

    private static ReminderTrigger? Again(HorseProfile horse, Assessment assessment, VisitRecord? last, WatchRules watch, TimeZoneInfo zone)
    {
        if (last is null)
            return null;
        var strange = assessment.Saddles.SelectMany(s => s.Decision.Measures).FirstOrDefault(m => m.MeasureAgain);
        var traced = last.Entries.Where(e => e is { Stands: true, Kind: "cross-section" or "topline" }).ToList();
        var spoiled = traced.Count > 0 && traced.All(e => e.Flags.Any(Spoils));
        var lean = LeaningIn(assessment);
        if (strange is null && !spoiled && lean is null)
            return null;
        var evidence = new Evidence(
            assessment.AsOf,
            assessment.RulesVersion,
            strange?.Measure,
            strange?.Station,
            strange?.Unit,
            null,
            null,
            strange?.Threshold,
            null,
            ZoneClock.Day(last.TakenAt, zone),
            null,
            "",
            LastVisit: ZoneClock.Day(last.TakenAt, zone),
            Leans: lean is null ? null : new LeaningTracings(lean.On, lean.Way)
        );
        return new ReminderTrigger(ReminderRule.MeasureAgain, null, null, evidence);

        bool Spoils(QualityFlag flag) =>
            Spoiling.Contains(flag.Flag) && (flag.Measure is null || watch.ThresholdOf(flag.Measure) is not null);
    }

    /// <summary>Who took the tracings for which the decision waits; null when it waits for none.</summary>
    internal static Guid? TracerOf(Assessment assessment, IReadOnlyList<VisitRecord> visits, TimeZoneInfo zone) =>
        LeaningIn(assessment) is { } lean
            ? visits
                .Where(v => !v.Withdrawn && ZoneClock.Day(v.TakenAt, zone) == lean.On)
                .OrderBy(v => v.TakenAt)
                .ThenBy(v => v.Id)
                .LastOrDefault()
                ?.By
            : null;

    private static VisitLean? LeaningIn(Assessment assessment) =>
        assessment.Saddles.Select(s => s.Decision.Leaning).OfType<VisitLean>().FirstOrDefault();

    /// <summary>Until this day the forecast alone calls nobody in.</summary>
    internal static DateOnly? ForecastSilentUntil(Assessment assessment, DateOnly? lastVisit, ReminderRules rules) =>
        lastVisit is { } on && BecauseOf(assessment) == CheckReason.Forecast ? on.AddDays(rules.ForecastPauseDays) : null;

    private static CheckReason? BecauseOf(Assessment assessment) =>
        assessment
            .Saddles.Where(s => s.Decision.NextCheck.Due == assessment.NextCheckDue)
            .Select(s => (CheckReason?)s.Decision.NextCheck.Reason)
            .FirstOrDefault();

    private static ReminderTrigger? Calendar(
        HorseProfile horse,
        Assessment assessment,
        VisitRecord? last,
        ReminderRules rules,
        TimeZoneInfo zone
    )
    {
        if (assessment.NextCheckDue > assessment.AsOf)
            return null;
        if (ForecastSilentUntil(assessment, last is null ? null : ZoneClock.Day(last.TakenAt, zone), rules) > assessment.AsOf)
            return null;
        var rule = last is null ? ReminderRule.NoVisit : ReminderRule.CheckDue;
        var because = BecauseOf(assessment);
        var evidence = Evidence.WithoutMeasure(
            assessment.AsOf,
            assessment.RulesVersion,
            assessment.NextCheckDue,
            "",
            because: because,
            lastVisit: last is null ? null : ZoneClock.Day(last.TakenAt, zone)
        );
        return new ReminderTrigger(rule, null, null, evidence);
    }

    private static Evidence EvidenceOf(
        ReminderRule rule,
        HorseProfile horse,
        Assessment assessment,
        SaddleAssessment saddle,
        WatchRules watch,
        TimeZoneInfo zone
    )
    {
        var d = saddle.Decision;
        var m = d.Driver;
        return new Evidence(
            assessment.AsOf,
            assessment.RulesVersion,
            m?.Measure,
            m?.Station,
            m?.Unit,
            m?.Alone?.Change,
            m?.Alone?.Sd,
            m?.Threshold,
            d.P,
            d.BaselineOn,
            d.NextCheck.Due,
            "",
            Findings.FindingFrom(d),
            Findings.Numbers(d, watch),
            LastVisit: LastVisitOn(horse, zone),
            Watched: d.Measures.Count
        );
    }

    private static DateOnly? LastVisitOn(HorseProfile horse, TimeZoneInfo zone) =>
        horse.LastVisit is { } at ? ZoneClock.Day(at, zone) : null;
}
