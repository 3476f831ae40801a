namespace BackHistory.History;

/// <summary>A document beside the events that people change at once: each of them names the version that they saw.</summary>
public interface IVersionedDocument<out T>
{
    /// <summary>1 when it was made, one more with every change.</summary>
    long Version { get; }

    /// <summary>The same, as it is from that version on.</summary>
    T At(long version);
}
