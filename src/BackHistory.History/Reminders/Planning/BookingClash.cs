namespace BackHistory.History.Reminders.Planning;

/// <summary>Why a visit does not go with what its fitter has that day.</summary>
/// <param name="With">The visit at about the same time; null where the day as a whole is too long.</param>
/// <param name="Minutes">Of the day's work with this visit.</param>
/// <param name="Allowed">Minutes of a working day.</param>
public sealed record BookingClash(FixedVisit? With, int Minutes, int Allowed)
{
    /// <summary>Whether one fitter can do a visit beside the others of the day. A visit takes the setting's minutes, and each further
    /// place the minutes of reaching it; a horse whose yard is not noted is a place of its own. Pure.</summary>
    /// <param name="others">Of this fitter, of any day, by the practice's own clock; those of the same horse do not count.</param>
    public static BookingClash? Of(FixedVisit visit, IReadOnlyList<FixedVisit> others, PlanningSetting setting)
    {
        var day = others.Where(o => o.HorseId != visit.HorseId && o.Start.Date == visit.Start.Date).OrderBy(o => o.Start).ToList();
        var all = day.Append(visit).ToList();
        var places = all.Where(v => v.YardId is not null).DistinctBy(v => v.YardId).Count() + all.Count(v => v.YardId is null);
        var minutes = all.Count * setting.VisitMinutes + places * setting.YardMinutes;
        var allowed = (int)(setting.End - setting.Start).TotalMinutes;
        var near = day.FirstOrDefault(o => Math.Abs((o.Start - visit.Start).TotalMinutes) < setting.VisitMinutes + Way(o));
        return near is not null || (day.Count > 0 && minutes > allowed) ? new BookingClash(near, minutes, allowed) : null;

        int Way(FixedVisit other) => other.YardId is { } yard && yard == visit.YardId ? 0 : setting.YardMinutes;
    }
}
