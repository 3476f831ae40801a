namespace BackHistory.Service.Web;

/// <summary>How far the service is from serving, in a person's words.</summary>
public sealed class Readiness
{
    private volatile string? _waitingFor = "The service is starting.";

    /// <summary>Null once everything is there.</summary>
    public string? WaitingFor => _waitingFor;

    public void Say(string what) => _waitingFor = what;

    public void Ready() => _waitingFor = null;
}
