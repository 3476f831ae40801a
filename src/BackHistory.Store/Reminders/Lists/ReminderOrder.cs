namespace BackHistory.Store.Reminders.Lists;

public enum ReminderOrder
{
    /// <summary>Those that were answered before those that were not; in each the newest first.</summary>
    Answered,

    /// <summary>The newest first.</summary>
    Newest,

    /// <summary>The longest standing first.</summary>
    Oldest,

    /// <summary>By the hour of the booked visit; what is not booked comes last.</summary>
    Day,
}
