using System.Runtime.Versioning;

namespace BackHistory.Service.Store;

/// <summary>
/// The folder of everything that is kept outside the database: the keys that seal links and sessions, letters with links in them, the
/// invented practice's password. At every start all of it is closed to others, whatever made it, a restore for example.
/// </summary>
internal static class StateFolder
{
    /// <summary>Where archives lie while they are written; whatever lies there at a start was left by a service that was killed.</summary>
    public const string Archives = "archives";

    private const string Postgres = "postgres";

    /// <summary>PostgreSQL closes its own data, and does not start where others can read them.</summary>
    private static readonly string[] Databases = ["data", "data.new"];

    private const UnixFileMode ToOthers =
        UnixFileMode.GroupRead
        | UnixFileMode.GroupWrite
        | UnixFileMode.GroupExecute
        | UnixFileMode.OtherRead
        | UnixFileMode.OtherWrite
        | UnixFileMode.OtherExecute;

    /// <summary>Makes the folder where there is none, and closes it and all that lies in it.</summary>
    /// <exception cref="OpenFolderException">Something in it can be read by others and belongs to somebody else.</exception>
    public static void Close(string state)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(state);
            return;
        }

        var folder = Directory.Exists(state) ? new DirectoryInfo(state) : Directory.CreateDirectory(state, ClosedFiles.Folder);
        // Run as root, a database that lies here is another user's, who is let through as a group (see PrivatePostgres) and sees no names;
        // a service that runs here at this moment needs that to stop it.
        var through =
            Environment.IsPrivilegedProcess && Databases.Any(d => Directory.Exists(Path.Combine(state, Postgres, d)))
                ? UnixFileMode.GroupExecute
                : UnixFileMode.None;
        Only(folder, ClosedFiles.Folder | (folder.UnixFileMode & through));
        foreach (var entry in folder.EnumerateFileSystemInfos())
            CloseAll(entry);
    }

    /// <summary>Archives that a killed service left half written. Only for whoever holds the folder alone.</summary>
    public static void Sweep(string state)
    {
        var left = Path.Combine(state, Archives);
        if (!Directory.Exists(left))
            return;
        foreach (var file in Directory.EnumerateFiles(left, "*.zip"))
            File.Delete(file);
    }

    [UnsupportedOSPlatform("windows")]
    private static void CloseAll(FileSystemInfo entry)
    {
        // What a link leads to is not this folder's.
        if (entry.LinkTarget is not null)
            return;
        Only(entry, entry is DirectoryInfo ? ClosedFiles.Folder : ClosedFiles.File);
        if (entry is not DirectoryInfo folder)
            return;
        var databases = folder.Name == Postgres ? Databases : [];
        foreach (var inner in folder.EnumerateFileSystemInfos().Where(e => !databases.Contains(e.Name)))
            CloseAll(inner);
    }

    [UnsupportedOSPlatform("windows")]
    private static void Only(FileSystemInfo entry, UnixFileMode mode)
    {
        var stands = entry.UnixFileMode;
        if ((stands & ToOthers & ~mode) == UnixFileMode.None)
            return;
        try
        {
            entry.UnixFileMode = mode;
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException)
        {
            throw new OpenFolderException(
                $"Others on this machine can read {entry.FullName}, and it belongs to another user, so it cannot be closed. Give it to "
                    + "the service's user (chown -R) and start again; nothing was changed."
            );
        }
    }
}
