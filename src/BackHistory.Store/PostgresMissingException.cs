namespace BackHistory.Store;

/// <summary>The database cannot be had; the message is for the person who started the service.</summary>
public sealed class PostgresMissingException(string message) : Exception(message);
