namespace BackHistory.Service.Saddles;

/// <param name="OnBoth">Another horse goes on trying it; refused otherwise.</param>
public sealed record TrialRequest(Guid HorseId, DateOnly? Until, DateTimeOffset? From, bool OnBoth = false);
