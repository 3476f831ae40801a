namespace BackHistory.Store.Horses;

/// <summary>How many horses are in each state.</summary>
public sealed record CaseloadCounts(int Refit, int Unknown, int Watch, int Steady, int NotYet);
