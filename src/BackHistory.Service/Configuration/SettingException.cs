namespace BackHistory.Service.Configuration;

/// <summary>A setting that cannot be used; the message says which, and what it should be.</summary>
public sealed class SettingException(string message) : Exception(message);
