namespace BackHistory.Service.Horses;

/// <param name="IntoId">The registration that stays.</param>
public sealed record HorseMergeRequest(Guid IntoId, string Reason);
