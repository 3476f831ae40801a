namespace BackHistory.Store.Reminders.Lists;

/// <summary>Where a page of the list ended.</summary>
/// <param name="Key">What the order goes by, as the store writes it.</param>
public sealed record ReminderPlace(string Key, Guid Id);
