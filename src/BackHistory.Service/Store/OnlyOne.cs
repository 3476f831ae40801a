namespace BackHistory.Service.Store;

/// <summary>One service to a state folder: two would start and stop each other's database.</summary>
internal static class OnlyOne
{
    /// <summary>The lock, or null while another process holds it; the system lets go of it when that process ends, however it
    /// ends.</summary>
    public static IDisposable? TryTake(string folder)
    {
        try
        {
            return new FileStream(Path.Combine(folder, "running"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException)
        {
            return null;
        }
    }
}
