namespace BackHistory.Store;

/// <summary>Files that only their owner may read.</summary>
public static class Secrets
{
    public static void Close(string file)
    {
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(file, UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }
}
