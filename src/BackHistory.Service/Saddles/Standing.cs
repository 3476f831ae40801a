namespace BackHistory.Service.Saddles;

/// <param name="Left">The mark at which the left side of the tree stands; null where no work says.</param>
public sealed record Standing(string? Left, string? Right);
