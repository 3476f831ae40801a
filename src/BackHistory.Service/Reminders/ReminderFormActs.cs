using BackHistory.Application.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>The acts that the forms of the reminders' page lead to.</summary>
public sealed record ReminderFormActs(
    ArrangeVisit Arrange,
    PostponeReminder Postpone,
    CallOffVisit CallOff,
    EndReminder End,
    NoteDone Done,
    NoteVetClearance Cleared,
    WriteAgain Again,
    ConsultVet Consult
);
