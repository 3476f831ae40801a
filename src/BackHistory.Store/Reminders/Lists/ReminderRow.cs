using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;

namespace BackHistory.Store.Reminders.Lists;

/// <summary>A reminder with the horse that it is about, and whoever is to be called.</summary>
/// <param name="Horse">Null where the horse's own read model has not followed yet.</param>
public sealed record ReminderRow(Reminder Reminder, HorseProfile? Horse, Person? Owner, Yard? Yard);
