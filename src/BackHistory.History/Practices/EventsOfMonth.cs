namespace BackHistory.History.Practices;

/// <param name="Event">Its alias, as the catalogue has it.</param>
public sealed record EventsOfMonth(string Event, int Times);
