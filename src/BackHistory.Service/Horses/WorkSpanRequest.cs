using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

/// <inheritdoc cref="OwnerRequest"/>
public sealed record WorkSpanRequest(WorkLoad Load, string? Discipline, double? HoursPerWeek, DateTimeOffset? From);
