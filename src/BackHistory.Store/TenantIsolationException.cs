namespace BackHistory.Store;

/// <summary>Tenant isolation cannot stand; the message is for whoever runs the service.</summary>
public sealed class TenantIsolationException(string message, Exception? inner = null) : Exception(message, inner);
