namespace BackHistory.Service.Horses;

public sealed record CareEndRequest(DateOnly Until);
