namespace BackHistory.Service.Reminders;

/// <param name="Html">With its pictures in it, to be shown in a frame without scripts.</param>
public sealed record LetterPreviewAnswer(string Subject, string Html, string Text);
