using BackHistory.Service.Web;

namespace BackHistory.Service.Reminders;

/// <summary>The wish to end the address of a calendar.</summary>
public sealed class CalendarEndForm : TypedForm;
