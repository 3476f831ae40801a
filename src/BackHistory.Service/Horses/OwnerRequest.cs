namespace BackHistory.Service.Horses;

/// <param name="From">Since when; now, where nothing is said.</param>
public sealed record OwnerRequest(Guid? OwnerId, DateTimeOffset? From);
