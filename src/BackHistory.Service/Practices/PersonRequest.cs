using BackHistory.History.Practices;

namespace BackHistory.Service.Practices;

public sealed record PersonRequest(
    string Name,
    string? Email,
    string? Phone,
    string? Address,
    PersonRole Role,
    string? Language,
    string? TimeZone
);
