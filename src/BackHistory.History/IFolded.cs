namespace BackHistory.History;

/// <summary>A state that is nothing but what happened, folded: the store, decisions on what is not saved yet, and tests fold it by the
/// same function.</summary>
public interface IFolded<TSelf>
    where TSelf : class, IFolded<TSelf>
{
    /// <summary>The state after one more event of its stream; null where none has begun.</summary>
    /// <exception cref="UnknownEventException">nobody has decided what this event means here</exception>
    static abstract TSelf? After(TSelf? before, object e);
}
