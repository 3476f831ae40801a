namespace BackHistory.History.Reminders.Policy;

/// <summary>A reason to see the horse that stands today.</summary>
/// <param name="WorkId">The saddle work that was never looked at again.</param>
public sealed record ReminderTrigger(ReminderRule Rule, Guid? SaddleId, Guid? WorkId, Evidence Evidence)
{
    public ReminderFamily Family => Families.FamilyOf(Rule);
}
