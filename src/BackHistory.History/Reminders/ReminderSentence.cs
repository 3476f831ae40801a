namespace BackHistory.History.Reminders;

/// <summary>Says in one sentence what a reminder rests on, in the language that it is kept in. Words are not made here: whoever raises a
/// reminder is handed this.</summary>
public delegate string ReminderSentence(ReminderRule rule, Evidence evidence, string horse);
