namespace BackHistory.Store.Archives;

/// <summary>An archive cannot be read on; the message says where.</summary>
public sealed class ArchiveException(string message, string code = "unreadable") : Exception(message)
{
    /// <summary>As a refusal has it.</summary>
    public string Code => code;
}
