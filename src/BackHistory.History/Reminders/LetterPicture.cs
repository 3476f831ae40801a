namespace BackHistory.History.Reminders;

/// <param name="ContentId">As the HTML names it after <c>cid:</c>.</param>
public sealed record LetterPicture(string ContentId, string Alt, byte[] Png, string MediaType = "image/png");
