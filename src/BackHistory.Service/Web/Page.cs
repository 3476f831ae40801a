namespace BackHistory.Service.Web;

/// <param name="Next">Pass as <c>after</c> to go on; null at the end.</param>
public sealed record Page<T>(IReadOnlyList<T> Items, string? Next);
