namespace BackHistory.Service.Practices;

public sealed record Made(Guid Id);
