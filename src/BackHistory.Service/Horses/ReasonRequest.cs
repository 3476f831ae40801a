namespace BackHistory.Service.Horses;

public sealed record ReasonRequest(string Reason);
