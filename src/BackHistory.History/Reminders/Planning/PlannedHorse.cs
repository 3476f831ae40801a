using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Planning;

/// <param name="Assessment">Null until the horse was looked at for the first time.</param>
/// <param name="Reminders">All that it ever had.</param>
/// <param name="Zone">The practice's: its clock says on which day something was.</param>
public sealed record PlannedHorse(HorseProfile Horse, Assessment? Assessment, IReadOnlyList<Reminder> Reminders, TimeZoneInfo Zone)
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
    /// <exception cref="InvalidOperationException">It was not looked at yet: nothing is foreseen.</exception>
    /// <param name="tell">Who is written to about the date.</param>
    public RaiseReminder Foreseen(string tenant, BookVisit? booking, Guid? tell, Guid by)
    {
        var earlier = Reminders.Count(r => r.SaddleId is null && r.Rule == ReminderRule.CheckDue);
        var id = ReminderIds.IdFor(tenant, Horse.Id, null, ReminderRule.CheckDue, earlier);
        var assessment = Assessment ?? throw new InvalidOperationException("nothing is foreseen of a horse that was not looked at");
        var because = assessment
            .Saddles.Where(s => s.Decision.NextCheck.Due == assessment.NextCheckDue)
            .Select(s => (CheckReason?)s.Decision.NextCheck.Reason)
            .FirstOrDefault();
        var evidence = Evidence.WithoutMeasure(
            assessment.AsOf,
            assessment.RulesVersion,
            assessment.NextCheckDue,
            "",
            because: because,
            lastVisit: Horse.LastVisit is { } last ? ZoneClock.Day(last, Zone) : null
        );
        LetterToWrite[] letters =
            booking is not null && tell is { } to
                ? [new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.BookingMade, to), LetterKind.BookingMade, to)]
                : [];
        return new RaiseReminder(id, Horse.Id, null, ReminderRule.CheckDue, evidence, letters, by, Booking: booking);
    }
}
