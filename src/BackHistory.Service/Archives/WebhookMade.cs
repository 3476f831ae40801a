namespace BackHistory.Service.Archives;

/// <param name="Secret">With which it is signed; shown this once.</param>
public sealed record WebhookMade(Guid Id, string Secret);
