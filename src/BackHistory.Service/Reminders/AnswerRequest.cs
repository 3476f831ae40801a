using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

public sealed record AnswerRequest(Answer Answer, string? Words);
