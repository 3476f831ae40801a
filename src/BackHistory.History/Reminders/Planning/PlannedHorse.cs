using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Planning;

/// <param name="Reminders">All that it ever had.</param>
public sealed record PlannedHorse(HorseProfile Horse, Assessment Assessment, IReadOnlyList<Reminder> Reminders)
{
    /// <summary>What a visit would be for: the weightiest reminder that waits for one; null when only the calendar foresees it.</summary>
    public Reminder? Standing =>
        Reminders
            .Where(r => r.Active && Families.FamilyOf(r.Rule) != ReminderFamily.Vet)
            .OrderBy(r => Families.FamilyOf(r.Rule))
            .ThenBy(r => r.RaisedAt)
            .ThenBy(r => r.Id)
            .FirstOrDefault();

    /// <summary>A check that is not due yet, called in early so that it can be booked: its reminder begins with the booking.</summary>
    /// <param name="tell">Who is written to about the date.</param>
    public RaiseReminder Foreseen(string tenant, BookVisit? booking, Guid? tell, Guid by)
    {
        var earlier = Reminders.Count(r => r.SaddleId is null && r.Rule == ReminderRule.CheckDue);
        var id = ReminderIds.IdFor(tenant, Horse.Id, null, ReminderRule.CheckDue, earlier);
        var because = Assessment
            .Saddles.Where(s => s.Decision.NextCheck.Due == Assessment.NextCheckDue)
            .Select(s => (CheckReason?)s.Decision.NextCheck.Reason)
            .FirstOrDefault();
        var evidence = Evidence.WithoutMeasure(
            Assessment.AsOf,
            Assessment.RulesVersion,
            Assessment.NextCheckDue,
            "",
            because: because,
            lastVisit: Horse.LastVisitOn
        );
        LetterToWrite[] letters =
            booking is not null && tell is { } to
                ? [new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.BookingMade, to), LetterKind.BookingMade, to)]
                : [];
        return new RaiseReminder(id, Horse.Id, null, ReminderRule.CheckDue, evidence, letters, by, Booking: booking);
    }
}
