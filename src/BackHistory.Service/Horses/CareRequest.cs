using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

/// <param name="Words">Kept where they can be erased.</param>
/// <param name="About">The people of whom they tell.</param>
public sealed record CareRequest(CareKind Kind, DateOnly From, DateOnly? Until, string? Words, IReadOnlyList<Guid>? About, string? Reason);
