namespace BackHistory.History;

/// <summary>An event reached a fold that neither takes it nor leaves it: somebody has to decide which.</summary>
public sealed class UnknownEventException(string message) : Exception(message)
{
    internal static UnknownEventException Of(object e, string fold) =>
        new($"{e.GetType().Name} reached the fold of {fold}, which neither takes it nor leaves it.");
}
