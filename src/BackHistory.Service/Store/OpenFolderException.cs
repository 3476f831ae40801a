namespace BackHistory.Service.Store;

/// <summary>Others on this machine can read what lies in the state folder, and it cannot be closed; the message says what to do.</summary>
public sealed class OpenFolderException(string message) : Exception(message);
