namespace BackHistory.Service.Saddles;

public sealed record SaddleWritten(Guid Id, long Version, Guid? WorkId = null);
