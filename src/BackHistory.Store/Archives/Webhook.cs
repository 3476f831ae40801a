namespace BackHistory.Store.Archives;

/// <summary>Other software that is told of changes, and how far it has been told.</summary>
/// <param name="Secret">With which what is sent is signed; shown once, when it is made.</param>
/// <param name="Types">Aliases; empty for all.</param>
public sealed record Webhook(Guid Id, string Url, string Secret, IReadOnlyList<string> Types, Guid By, DateTimeOffset At)
{
    /// <summary>Where it is sent, without what may be a secret of the other side.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public string Host => new Uri(Url).Host;

    /// <summary>Everything up to here was taken.</summary>
    public long Position { get; init; }

    /// <summary>Attempts that failed since the last one that did not.</summary>
    public int Failures { get; init; }

    public DateTimeOffset? NotBefore { get; init; }

    /// <summary>A status code or a kind of error, never what the other side wrote.</summary>
    public string? LastError { get; init; }

    public DateTimeOffset? LastTaken { get; init; }

    /// <summary>It failed too often: nothing more is sent until somebody starts it again.</summary>
    public bool Stopped { get; init; }
}
