using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Reminders.Policy;

/// <summary>From a horse's visits and fits to what is said of it. Pure: everything comes in, the day too.</summary>
public static class Assessing
{
    /// <summary>
    /// Last year's visits are entered one after another, and between two of them a check seems long overdue: a horse about which
    /// something was recorded within this time is not called in by the calendar.
    /// </summary>
    public static readonly TimeSpan StillEntering = TimeSpan.FromHours(2);

    /// <param name="basedOn">Position of the store up to which the visits and the profile are known.</param>
    /// <param name="earlier">The last assessment: a state ends at a lower bar than it begins.</param>
    public static Assessment Assess(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Practice practice,
        DateOnly asOf,
        long basedOn,
        Assessment? earlier
    )
    {
        var (rules, zone) = (practice.WatchBy(), PracticeClock.Zone(practice));
        var standing = visits
            .Where(v => v is { Withdrawn: false, AwaitsConfirmation: false })
            .OrderBy(v => v.TakenAt)
            .ThenBy(v => v.Id)
            .ToList();
        var saddles = horse
            .Fits.GroupBy(f => f.SaddleId)
            .Select(fits =>
                Assess(
                    horse,
                    FollowMerge(SaddleFit.Counting([.. fits]).MaxBy(f => f.TakenAt)!, visits),
                    standing,
                    zone,
                    rules,
                    asOf,
                    earlier
                )
            )
            .OrderBy(s => RankOf(s.Decision.State))
            .ThenBy(s => s.SaddleId)
            .ToList();
        var state = saddles.Count == 0 ? WatchState.Unknown : saddles[0].Decision.State;
        var due =
            saddles.Count == 0
                ? LastVisitOn(standing, zone)?.AddDays(rules.Calendar.SteadyDays)
                    ?? ZoneClock.Day(horse.RegisteredAt, zone).AddDays(rules.Calendar.FirstVisitDays)
                : saddles.Min(s => s.Decision.NextCheck.Due);
        var reassess = saddles.Select(s => s.Decision.ReassessOn).Append(due > asOf ? due : null).Min();
        return new Assessment
        {
            Id = horse.Id,
            BasedOn = basedOn,
            AsOf = asOf,
            ReassessOn = reassess,
            RulesVersion = practice.RulesVersion,
            ReminderRulesVersion = practice.ReminderRulesVersion,
            State = state,
            Rank = RankOf(state),
            NextCheckDue = due,
            HoldUntil = due <= asOf ? horse.RecordedAt + StillEntering : null,
            Saddles = saddles,
        };
    }

    public static int RankOf(WatchState state) =>
        state switch
        {
            WatchState.Refit => 0,
            WatchState.Unknown => 1,
            WatchState.Watch => 2,
            _ => 3,
        };

    private static SaddleAssessment Assess(
        HorseProfile horse,
        SaddleFit fit,
        IReadOnlyList<VisitRecord> visits,
        TimeZoneInfo zone,
        WatchRules rules,
        DateOnly asOf,
        Assessment? earlier
    )
    {
        var baseline = BaselineOf(fit, visits, rules, zone);
        var day = TrendDays.DayNumber(baseline?.TakenAt ?? fit.TakenAt, zone);
        var before = earlier?.Saddles.FirstOrDefault(s => s.SaddleId == fit.SaddleId && s.WorkId == fit.WorkId)?.Decision.State;
        var series = Series.SeriesFrom(visits, rules, zone);
        var (today, circumstances) = (TrendDays.EndOf(asOf), CircumstancesOf(horse, fit, asOf, zone));
        var decision = baseline is null
            ? HorseJudge.WithoutBaseline(series, day, today, rules, circumstances)
            : HorseJudge.Decide(series, day, today, rules, before, circumstances);
        return new SaddleAssessment(fit.SaddleId, fit.WorkId, baseline?.Id, decision, before);
    }

    /// <summary>The visit that the saddle was set to, or the nearest one within reach.</summary>
    private static VisitRecord? BaselineOf(SaddleFit fit, IReadOnlyList<VisitRecord> visits, WatchRules rules, TimeZoneInfo zone)
    {
        if (fit.VisitId is { } id && visits.FirstOrDefault(v => v.Id == id) is { } named)
            return named;
        var chosen = Baseline.Choose(Day(fit.TakenAt), visits.Select(v => Day(v.TakenAt)), rules);
        return chosen is null ? null : visits.First(v => Day(v.TakenAt) == chosen.Visit);

        DateOnly Day(DateTimeOffset at) => ZoneClock.Day(at, zone);
    }

    /// <summary>Set to a visit that was entered twice, it was set to the one that stays.</summary>
    private static SaddleFit FollowMerge(SaddleFit fit, IReadOnlyList<VisitRecord> visits) =>
        visits.FirstOrDefault(v => v.Id == fit.VisitId)?.MergedInto is { } into ? fit with { VisitId = into } : fit;

    private static HorseCircumstances CircumstancesOf(HorseProfile horse, SaddleFit fit, DateOnly asOf, TimeZoneInfo zone)
    {
        var work = horse.Work.OrderBy(w => w.From).LastOrDefault(w => ZoneClock.Day(w.From, zone) <= asOf);
        var layOff = horse.Care.Where(c => c.Kind == CareKind.LayOff && c.From <= asOf).MaxBy(c => c.From);
        var outOfWork = work?.Load == WorkLoad.None || (layOff is not null && (layOff.Until is null || layOff.Until > asOf));
        var recently = asOf.AddDays(-90);
        return new HorseCircumstances(
            Born: horse.Foaled,
            BackFromLayOff: !outOfWork && layOff?.Until is { } until && until > recently,
            ChangingWork: work is not null && horse.Work.Count > 1 && ZoneClock.Day(work.From, zone) > recently,
            OutOfWork: outOfWork,
            SaddleNewOrReflocked: horse.Fits.Where(f => f.SaddleId == fit.SaddleId).MaxBy(f => f.TakenAt) is { Fresh: true } fresh
                ? ZoneClock.Day(fresh.TakenAt, zone)
                : null
        );
    }

    private static DateOnly? LastVisitOn(IReadOnlyList<VisitRecord> visits, TimeZoneInfo zone) =>
        visits.Count == 0 ? null : ZoneClock.Day(visits[^1].TakenAt, zone);
}
