using System.Globalization;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Planning;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>Whether a fitter can go at an hour, beside what they have that day: asked before a visit is booked, and answered by whoever
/// books.</summary>
public sealed class BookingClashes(PracticeQueries practices, BookedVisits visits)
{
    /// <summary>What a refusal is called whose booking stands on being asked for once more.</summary>
    public const string Code = "clash";

    /// <param name="fitter">Who goes; where nobody is named, whoever it is in a practice of one fitter.</param>
    /// <returns>What stands in the way; null where nothing does.</returns>
    public async Task<Refused?> Of(string practice, Guid horseId, DateTimeOffset at, Guid? fitter, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known)
            return null;
        // No calendar has a day beside it: whoever decides about the visit says that none is booked so far away.
        if (at.Year <= DateOnly.MinValue.Year + 1 || at.Year >= DateOnly.MaxValue.Year)
            return null;
        var day = ZoneClock.Day(at, PracticeClock.Zone(known));
        var booked = await visits.Within(known, practice, day, day.AddDays(1), [horseId], ct);
        if (booked.Goes(fitter) is not { } goes)
            return null;
        var horses = booked.Horses;
        var clash = BookingClash.Of(
            booked.Visit(horseId, at, goes),
            [.. booked.Taken.Where(v => v.Fitter == goes)],
            known.ReminderRules.Planning
        );
        if (clash is null)
            return null;
        var name = booked.Fitters.FirstOrDefault(f => f.Id == goes)?.Name ?? "This fitter";
        return new Refused(
            Code,
            clash.With is { } other
                ? $"{name} has a visit to {horses.GetValueOrDefault(other.HorseId)?.Name ?? "another horse"} at {Hour(other.Start)} on "
                    + $"that day; a visit takes {known.ReminderRules.Planning.VisitMinutes} minutes, and another yard "
                    + $"{known.ReminderRules.Planning.YardMinutes} more."
                : $"With this visit {name} would have {Long(clash.Minutes)} of work that day; the working day has {Long(clash.Allowed)}.",
            RefusalKind.Conflict,
            Place: "at"
        );
    }

    private static string Hour(DateTime at) => at.ToString("HH:mm", CultureInfo.InvariantCulture);

    private static string Long(int minutes) => minutes % 60 == 0 ? $"{minutes / 60} h" : $"{minutes / 60} h {minutes % 60} min";
}
