namespace BackHistory.Reports.Letters;

/// <summary>What can be put into a letter's words, as whoever writes them sees it.</summary>
/// <param name="Text">As it stands among the words: in square brackets, in the letter's language.</param>
/// <param name="InSubject">Whether it may stand in the subject, which is read over shoulders.</param>
public sealed record LetterInsert(string Text, bool InSubject);
