namespace BackHistory.History;

/// <summary>What breaks while something is worked out from an event, as opposed to what breaks around it.</summary>
internal static class ComputationFault
{
    /// <summary>A fault of the computation, not of the machine that it runs on; nor an event of which nobody has decided what it
    /// means: that one breaks every fold, and is of a newer release.</summary>
    public static bool IsOurs(Exception fault) =>
        fault is not (OutOfMemoryException or InsufficientExecutionStackException or OperationCanceledException or UnknownEventException);

    /// <summary>The kind of the fault only: its message may hold what was entered.</summary>
    public static string Words(Exception fault) => $"our own computation broke on it ({fault.GetType().Name})";
}
