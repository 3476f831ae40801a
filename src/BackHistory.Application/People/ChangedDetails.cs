namespace BackHistory.Application.People;

/// <summary>What of a document is another, for the audit: the names of the details, never what they say.</summary>
internal static class ChangedDetails
{
    internal static IReadOnlyList<string> Between<T>(T before, T after, IEnumerable<(string Name, Func<T, object?> Value)> details) =>
        [.. details.Where(d => !Equals(d.Value(before), d.Value(after))).Select(d => d.Name)];
}
