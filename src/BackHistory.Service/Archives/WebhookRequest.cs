namespace BackHistory.Service.Archives;

/// <param name="Url">Where changes are sent, https.</param>
/// <param name="Types">Types of events; none for all.</param>
public sealed record WebhookRequest(string Url, IReadOnlyList<string>? Types);
