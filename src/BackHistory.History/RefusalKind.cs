namespace BackHistory.History;

/// <summary>How a refusal answers over HTTP; the mapping stands once, in the service.</summary>
public enum RefusalKind
{
    /// <summary>The request cannot be carried out as it stands.</summary>
    Invalid,

    /// <summary>There is no such thing here; somebody else's looks the same.</summary>
    NotFound,

    /// <summary>It contradicts what has happened already.</summary>
    Conflict,

    /// <summary>The caller did not say which version it saw.</summary>
    VersionMissing,

    /// <summary>The history has moved on since the version that the caller saw.</summary>
    Stale,
}
