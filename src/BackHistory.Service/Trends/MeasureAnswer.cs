namespace BackHistory.Service.Trends;

public sealed record MeasureAnswer(
    Guid VisitId,
    DateTimeOffset TakenAt,
    Guid By,
    string Key,
    string? Station,
    double Value,
    string Unit,
    double? Sd
);
