namespace BackHistory.History.Reminders;

/// <summary>Whether a rule raises reminders, and how readily (all rules of thumb that the practice edits).</summary>
/// <param name="HoldDays">Its ground must still stand so many days after it first appeared; 0 raises at once.</param>
/// <param name="QuietDays">A reminder that somebody closed is not raised again on the same ground within so many days.</param>
public record RuleSetting(bool On = true, int HoldDays = 0, int QuietDays = 90);
