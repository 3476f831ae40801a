namespace BackHistory.Service.Store;

/// <summary>Folders and files that nobody but the service's own user may read, from the moment they are there.</summary>
internal static class ClosedFiles
{
    public const UnixFileMode File = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    public const UnixFileMode Folder = File | UnixFileMode.UserExecute;

    public static DirectoryInfo NewFolder(string path) =>
        OperatingSystem.IsWindows() ? Directory.CreateDirectory(path) : Directory.CreateDirectory(path, Folder);

    /// <summary>For one that must not be there yet.</summary>
    public static FileStream NewFile(string path, FileAccess access = FileAccess.Write, FileOptions options = FileOptions.Asynchronous)
    {
        var open = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = access,
            Options = options,
        };
        if (!OperatingSystem.IsWindows())
            open.UnixCreateMode = File;
        return new FileStream(path, open);
    }
}
