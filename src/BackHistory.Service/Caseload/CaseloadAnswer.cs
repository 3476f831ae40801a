using BackHistory.History.Reminders;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Service.Caseload;

/// <summary>A row of the caseload as the API answers it.</summary>
public sealed record CaseloadAnswer(
    Guid HorseId,
    string Name,
    WatchState State,
    double? P,
    string? Measure,
    string? Station,
    double? Change,
    double? Sd,
    double? Threshold,
    string? Unit,
    DateTimeOffset? LastVisit,
    DateOnly? NextCheckDue,
    IReadOnlyList<ReminderState> Reminders,
    Guid? OwnerId,
    Guid? YardId
);
