namespace BackHistory.Service.Reminders;

/// <param name="EvenSo">False asks first: where such a letter went to the reader within the hour, it is refused as
/// <c>written-lately</c>.</param>
public sealed record TellAgainRequest(bool EvenSo = true);
