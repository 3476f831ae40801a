namespace BackHistory.History;

/// <summary>What breaks while something is worked out from an event, as opposed to what breaks around it.</summary>
internal static class ComputationFault
{
    /// <summary>A fault of the computation, not of the machine that it runs on.</summary>
    public static bool IsOurs(Exception fault) =>
        fault is not (OutOfMemoryException or InsufficientExecutionStackException or OperationCanceledException);

    /// <summary>The kind of the fault only: its message may hold what was entered.</summary>
    public static string Words(Exception fault) => $"our own computation broke on it ({fault.GetType().Name})";
}
