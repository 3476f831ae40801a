using BackHistory.History.Horses;

namespace BackHistory.History.Profiles;

/// <summary>A span of work until the next one.</summary>
public sealed record WorkSpan(Guid WorkId, DateTimeOffset From, WorkLoad Load, string? Discipline, double? HoursPerWeek);
