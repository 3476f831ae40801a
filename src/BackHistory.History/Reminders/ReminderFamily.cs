namespace BackHistory.History.Reminders;

/// <summary>Rules that ask for the same thing: at most one reminder of a family is open for a horse (and saddle, where the family is
/// about one).</summary>
public enum ReminderFamily
{
    Vet,
    Shape,
    Recheck,
    Again,
    Calendar,
}
