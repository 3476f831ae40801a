namespace BackHistory.Language.Tests;

/// <summary>The program's sources, as they lie beside these tests.</summary>
internal static class Sources
{
    internal static IReadOnlyList<(string Path, string Text)> All()
    {
        var root = new DirectoryInfo(AppContext.BaseDirectory);
        while (root is not null && !File.Exists(Path.Combine(root.FullName, "BackHistory.sln")))
            root = root.Parent;
        var src = Path.Combine(root!.FullName, "src");
        return
        [
            .. Directory
                .EnumerateFiles(src, "*.*", SearchOption.AllDirectories)
                .Where(f => f.EndsWith(".cs", StringComparison.Ordinal) || f.EndsWith(".razor", StringComparison.Ordinal))
                .Select(f => (Path: Path.GetRelativePath(src, f).Replace('\\', '/'), Full: f))
                .Where(f => !f.Path.Split('/').Any(p => p is "obj" or "bin" or "node_modules"))
                .Select(f => (f.Path, File.ReadAllText(f.Full))),
        ];
    }
}
