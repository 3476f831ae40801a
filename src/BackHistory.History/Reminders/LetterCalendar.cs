namespace BackHistory.History.Reminders;

/// <param name="Method">REQUEST or CANCEL.</param>
public sealed record LetterCalendar(string Method, string Text);
