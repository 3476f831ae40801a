using BackHistory.History.Saddles;

namespace BackHistory.Service.Saddles;

/// <param name="From">Since when; now, where nothing is said.</param>
public sealed record PartsRequest(IReadOnlyList<SaddlePart> Parts, DateTimeOffset? From);
