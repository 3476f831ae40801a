using BackHistory.History.Horses;
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
    /// <summary>Its measures as the practice, or a reader of its letters, is told them.</summary>
    public Formatter Format(ReportLanguage language = default) => new(Practice.Units.Lengths, language);
}
