using BackHistory.Trends.Rules;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.SinceFit;

/// <summary>The earlier of the forecast and the calendar.</summary>
static class NextCheckRule
{
    internal static NextCheck NextCheckFor(
        IReadOnlyList<WatchedSeries> series,
        IReadOnlyList<MeasureDecision> measures,
        double baselineDay,
        Forecast? forecast,
        CalendarRules rules,
        HorseCircumstances horse
    )
    {
        var lastDay = series.Max(s => s.Observations.Max(o => o.Day));
        var last = Days.DateOf(lastDay) ?? DateOnly.MaxValue;
        var due = ByInterval(last, measures, rules, horse);
        if (horse.SaddleNewOrReflocked is { } work && last < work.AddDays(rules.SettledAfterDays))
            due = Earlier(due, new(work.AddDays(rules.NewSaddleDays), CheckReason.NewSaddle));
        if (forecast?.From is { } from)
            due = Earlier(due, new(from, CheckReason.Forecast));
        return due;
    }

    static NextCheck ByInterval(DateOnly last, IReadOnlyList<MeasureDecision> measures, CalendarRules rules, HorseCircumstances horse)
    {
        var age = horse.Born is { } born ? (last.DayNumber - born.DayNumber) / 365.25 : (double?)null;
        CheckReason? close =
            horse.OutOfWork ? null
            : age < rules.YoungUnder ? CheckReason.YoungHorse
            : age > rules.OldOver ? CheckReason.OldHorse
            : horse.BackFromLayOff ? CheckReason.BackFromLayOff
            : horse.ChangingWork ? CheckReason.ChangingWork
            : WeightHasChanged(measures, rules) ? CheckReason.WeightChange
            : null;
        return close is { } reason
            ? new(last.AddDays(rules.CloseDays), reason)
            : new(last.AddDays(rules.SteadyDays), CheckReason.SteadyWork);
    }

    static bool WeightHasChanged(IReadOnlyList<MeasureDecision> measures, CalendarRules rules)
    {
        foreach (var m in measures)
            if (
                m is { Measure: "weight", Alone: { } change, Baseline: { } at }
                && Math.Abs(change.Change) >= rules.WeightChangePercent / 100 * at.Value
            )
                return true;
        return false;
    }

    static NextCheck Earlier(NextCheck a, NextCheck b) => b.Due < a.Due ? b : a;
}
