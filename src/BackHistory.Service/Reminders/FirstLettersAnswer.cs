namespace BackHistory.Service.Reminders;

/// <param name="Waiting">How many letters wait for somebody to look at them.</param>
/// <param name="Released">Whether letters leave by themselves.</param>
public sealed record FirstLettersAnswer(bool Released, int Waiting);
