namespace BackHistory.Service.Horses;

/// <param name="IntoVisitId">The visit that stays.</param>
public sealed record VisitMergeRequest(Guid IntoVisitId, string Reason);
