namespace BackHistory.History.Practices;

/// <param name="Version">Counts the practice's versions of this letter.</param>
public sealed record OwnTemplate(int Version, string Source);
