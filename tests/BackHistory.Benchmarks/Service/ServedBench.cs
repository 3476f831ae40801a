using BackHistory.Store;
using BackHistory.Testing;

namespace BackHistory.Benchmarks.Service;

/// <summary>The real host on a PostgreSQL of its own that is as durable as a practice's: fsync stays on.</summary>
sealed class ServedBench : IAsyncDisposable
{
    internal const string Practice = "bench";

    private readonly DirectoryInfo _folder;
    private readonly PrivatePostgres _postgres;

    private ServedBench(DirectoryInfo folder, PrivatePostgres postgres, ServedHost host, string database) =>
        (_folder, _postgres, Host, Database) = (folder, postgres, host, database);

    internal ServedHost Host { get; }

    /// <summary>Connection string to the host's own database.</summary>
    internal string Database { get; }

    /// <summary>How to sign in to the invented practice, as its first start says it.</summary>
    internal string SignIn => File.ReadAllText(Path.Combine(_folder.FullName, "invented-practice"));

    /// <summary>An empty practice.</summary>
    internal static Task<ServedBench> Start() => Start((database, state) => ServedHost.Start(database, state, Practice));

    /// <summary>The invented practice, entered through the commands of a user.</summary>
    internal static Task<ServedBench> Invented(int horses) => Start((database, state) => ServedHost.Invented(database, state, horses));

    private static async Task<ServedBench> Start(Func<string, string, Task<ServedHost>> serve)
    {
        // The service tells its user how to sign in; standard output is for figures.
        var figures = Console.Out;
        Console.SetOut(Console.Error);
        var folder = Directory.CreateTempSubdirectory("backhistory-bench-");
        // PostgreSQL does not run as root; the user that it then runs as must be let through.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(folder.FullName, folder.UnixFileMode | UnixFileMode.OtherExecute | UnixFileMode.GroupExecute);
        var postgres = await PrivatePostgres.Start(Path.Combine(folder.FullName, "postgres"), durable: true, CancellationToken.None);
        var database = await postgres.ConnectionString("bench", CancellationToken.None);
        var host = await serve(database, folder.FullName);
        Console.SetOut(figures);
        return new ServedBench(folder, postgres, host, database);
    }

    internal Task<string> OtherDatabase(string name) => _postgres.ConnectionString(name, CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await Host.DisposeAsync();
        await _postgres.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
