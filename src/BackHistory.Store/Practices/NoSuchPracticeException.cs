namespace BackHistory.Store.Practices;

/// <summary>A job names a practice that is not here.</summary>
public sealed class NoSuchPracticeException() : Exception("The job names a practice that is not here; nothing was done.");
