using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Planning;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>When a booked visit could take place instead: what the practice offers whoever owns the horse.</summary>
public sealed class OfferedTimes(PracticeQueries practices, BookedVisits visits, FirstReader reader, TimeProvider time)
{
    // Rules of thumb (ours, no source): enough to choose from, few enough to read on a telephone.
    private const int DaysAhead = 28;
    private const int MostDays = 8;
    private const int MostOfADay = 3;

    /// <summary>The day after tomorrow at the earliest, and no visit before it is moved: a route that begins tomorrow is not upset. A rule
    /// of thumb (ours, no source).</summary>
    private const int DaysOfNotice = 2;

    /// <summary>Within the practice's working days of the next four weeks, where whoever goes has room. In order of time.</summary>
    /// <returns>Null where nothing is booked, or where somebody else is asked about the horse by now; empty where no time is left, or
    /// the visit is too near.</returns>
    public async Task<IReadOnlyList<DateTimeOffset>?> For(string practice, Reminder reminder, Guid person, CancellationToken ct)
    {
        if (
            reminder is not { State: ReminderState.Booked, BookedFor: { } stands }
            || await practices.Load(practice, ct) is not { } known
            || (await reader.OfVisit(practice, reminder.HorseId, ct))?.Id != person
        )
            return null;
        var (zone, setting) = (PracticeClock.Zone(known), known.ReminderRules.Planning);
        var first = ZoneClock.Day(time.GetUtcNow(), zone).AddDays(DaysOfNotice);
        if (ZoneClock.Day(stands, zone) < first)
            return [];
        var booked = await visits.Within(known, practice, first, first.AddDays(DaysAhead), [reminder.HorseId], ct);
        var goes = booked.Goes(reminder.Fitter);
        var taken = booked.Taken.Where(v => v.Fitter == goes).ToList();
        var offered = new List<DateTimeOffset>();
        var days = 0;
        for (var on = first; on < first.AddDays(DaysAhead) && days < MostDays; on = on.AddDays(1))
        {
            if (!setting.WorkDays.Contains(on.DayOfWeek) || setting.FreeDays.Contains(on))
                continue;
            var free = Starts(setting)
                .Select(at => ZoneClock.At(on, at, zone))
                .Where(at => BookingClash.Of(booked.Visit(reminder.HorseId, at, goes), taken, setting) is null)
                .Where(at => at != stands)
                .ToList();
            if (free.Count == 0)
                continue;
            days++;
            offered.AddRange(Spread(free));
        }

        return offered;
    }

    /// <summary>On the hour, from the beginning of the working day until a visit just fits in.</summary>
    private static IEnumerable<TimeOnly> Starts(PlanningSetting setting)
    {
        var first = setting.Start.Minute == 0 ? setting.Start.Hour : setting.Start.Hour + 1;
        for (var hour = first; hour < 24; hour++)
        {
            var ends = new TimeOnly(hour, 0).AddMinutes(setting.VisitMinutes, out var days);
            if (days != 0 || ends > setting.End)
                yield break;
            yield return new TimeOnly(hour, 0);
        }
    }

    /// <summary>The first, the last and one between.</summary>
    private static IEnumerable<DateTimeOffset> Spread(List<DateTimeOffset> free) =>
        free.Count <= MostOfADay ? free : [free[0], free[free.Count / 2], free[^1]];
}
