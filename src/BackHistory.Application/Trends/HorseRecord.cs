using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.Application.Trends;

/// <summary>Everything that a page, a chart or a letter about one horse needs.</summary>
public sealed record HorseRecord(
    HorseProfile Profile,
    IReadOnlyList<VisitRecord> Visits,
    Assessment? Assessment,
    History.Practices.Practice Practice,
    DateOnly Today
)
{
    /// <summary>The practice's clock: it says on which day something was.</summary>
    public TimeZoneInfo Zone => PracticeClock.Zone(Practice);

    /// <summary>The day of the last visit, where the practice is.</summary>
    public DateOnly? LastVisitOn => Profile.LastVisit is { } at ? ZoneClock.Day(at, Zone) : null;

    public DateOnly Day(DateTimeOffset at) => ZoneClock.Day(at, Zone);

    /// <summary>Its measures as the practice, or a reader of its letters, is told them.</summary>
    public Formatter Format(ReportLanguage language = default) => new(Practice.Units.Lengths, language);
}
