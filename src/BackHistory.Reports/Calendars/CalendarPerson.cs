namespace BackHistory.Reports.Calendars;

/// <summary>A person of an invitation.</summary>
public sealed record CalendarPerson(string Name, string Email);
