using BackHistory.History.Reminders;

namespace BackHistory.Store.Reminders.Lists;

/// <summary>Which reminders are listed.</summary>
/// <param name="Text">Part of the name of the horse, of its owner or of its yard, or of the owner's telephone number.</param>
/// <param name="Rules">Any of these; empty for all.</param>
/// <param name="Answered">Whether somebody answered; null for both.</param>
/// <param name="Fitter">Who goes to the booked visit.</param>
public sealed record ReminderFilter(
    string? Text = null,
    Guid? YardId = null,
    IReadOnlyList<ReminderRule>? Rules = null,
    bool? Answered = null,
    Guid? Fitter = null
);
