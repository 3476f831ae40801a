using BackHistory.History.Reminders.Policy;

namespace BackHistory.Service.Trends;

public sealed record AssessmentAnswer(Assessment Assessment);
