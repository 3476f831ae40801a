namespace BackHistory.Application.Sharing;

/// <summary>How somebody outside came to see a horse.</summary>
public enum ShareKind
{
    /// <summary>By name, with an account of theirs.</summary>
    Grant,

    /// <summary>By a link that they hold.</summary>
    Link,
}
