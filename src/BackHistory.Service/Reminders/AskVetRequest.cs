namespace BackHistory.Service.Reminders;

public sealed record AskVetRequest(Guid PersonId);
