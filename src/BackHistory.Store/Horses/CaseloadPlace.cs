namespace BackHistory.Store.Horses;

/// <summary>A row's place in its order: the sort keys as text, and the horse.</summary>
public sealed record CaseloadPlace(string Key, Guid Id);
