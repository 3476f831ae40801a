using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Everything that decides on one horse's reminders at one moment.</summary>
/// <param name="Zone">The practice's: its clock says on which day something happened.</param>
/// <param name="Reminders">All that this horse ever had.</param>
public sealed record Situation(
    string Tenant,
    HorseProfile Horse,
    IReadOnlyList<VisitRecord> Visits,
    Assessment Assessment,
    IReadOnlyList<Reminder> Reminders,
    Readers Readers,
    ReminderRules Rules,
    WatchRules Watch,
    DateTimeOffset Now,
    TimeZoneInfo Zone
)
{
    public DateOnly AsOf => Assessment.AsOf;

    /// <summary>The horse does not work today: the calendar is silent.</summary>
    public bool OutOfWork =>
        Horse.WorkNow?.Load == WorkLoad.None
        || Horse.Care.Any(c => c.Kind == CareKind.LayOff && c.From <= AsOf && (c.Until is null || c.Until > AsOf));

    /// <summary>The day on which something happened, where the practice is.</summary>
    internal DateOnly Day(DateTimeOffset at) => ZoneClock.Day(at, Zone);
}
