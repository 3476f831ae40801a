namespace BackHistory.Testing;

/// <summary>The checkout that this test was built from.</summary>
public static class Repository
{
    public static string Root { get; } = Find();

    private static string Find()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "BackHistory.sln")))
            folder = Path.GetDirectoryName(folder.TrimEnd('/')) ?? throw new InvalidOperationException("no BackHistory.sln above the test");
        return folder;
    }
}
