namespace BackHistory.Service.Sharing;

/// <summary>With whom a horse is shared, as the API answers it.</summary>
public sealed record SharingAnswer(Guid HorseId, IReadOnlyList<GrantAnswer> Grants, IReadOnlyList<LinkAnswer> Links);
