using System.IO.Compression;
using System.Text.Json;

namespace BackHistory.Store.Tests;

/// <summary>Bytes of earlier releases beside the tests, and the documents of the repository that tests keep true.</summary>
internal static class TestData
{
    public static string File(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    /// <summary>A store as a release wrote it, as SQL.</summary>
    public static async Task<string> Dump(int release)
    {
        await using var file = System.IO.File.OpenRead(File($"release-{release}.sql.gz"));
        await using var sql = new GZipStream(file, CompressionMode.Decompress);
        return await new StreamReader(sql).ReadToEndAsync();
    }

    /// <summary>One event of every alias as a release wrote it.</summary>
    public static IReadOnlyList<(string Alias, string Json)> Events(int release) =>
        [
            .. System
                .IO.File.ReadLines(File($"events/release-{release}.jsonl"))
                .Where(l => l.Length > 0)
                .Select(l => JsonDocument.Parse(l).RootElement)
                .Select(l => (l.GetProperty("alias").GetString()!, l.GetProperty("data").GetRawText())),
        ];

    /// <summary>A file of the repository itself.</summary>
    public static string Repository(string name)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!System.IO.File.Exists(Path.Combine(folder!.FullName, "BackHistory.sln")))
            folder = folder.Parent;
        return System.IO.File.ReadAllText(Path.Combine(folder.FullName, name));
    }
}
