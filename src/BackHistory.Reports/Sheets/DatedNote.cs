namespace BackHistory.Reports.Sheets;

/// <param name="On">The day, in the practice's time zone.</param>
public sealed record DatedNote(DateOnly On, string Text);
