namespace BackHistory.History;

/// <summary>An event reached a fold that neither takes it nor leaves it: somebody has to decide which.</summary>
public sealed class UnknownEventException(string message) : Exception(message)
{
    /// <param name="fold">The state, read model or process that it reached.</param>
    public static UnknownEventException In(string fold, object e) =>
        new($"{e.GetType().Name} reached the fold of {fold}, which neither takes it nor leaves it.");
}
