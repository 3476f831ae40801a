namespace BackHistory.History.Profiles;

/// <summary>A saddle was set or altered for this horse.</summary>
public sealed record SaddleFit(Guid SaddleId, Guid WorkId, Guid? VisitId, DateTimeOffset TakenAt, bool Set, bool Fresh);
