namespace BackHistory.History.Horses;

/// <summary>The numbers that are taken by hand, with the range inside which a horse can lie.</summary>
public sealed record ReadingKind(string Key, PlausibleRange Range, bool AtStation, string Says);
