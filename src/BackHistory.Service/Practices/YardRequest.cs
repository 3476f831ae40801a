namespace BackHistory.Service.Practices;

public sealed record YardRequest(string Name, string? Town);
