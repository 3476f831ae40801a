namespace BackHistory.Service.Practices;

public sealed record PracticeRequest(string Name, string TimeZone, string Reason);
