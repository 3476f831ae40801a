using BackHistory.Store;
using BackHistory.Testing;

namespace BackHistory.Benchmarks.History;

/// <summary>A history without the service around it, on a PostgreSQL of its own that is as durable as a practice's: fsync stays
/// on.</summary>
sealed class StoreBench : IAsyncDisposable
{
    private readonly DirectoryInfo _folder;
    private readonly PrivatePostgres _postgres;

    private StoreBench(DirectoryInfo folder, PrivatePostgres postgres, PracticeStore store) =>
        (_folder, _postgres, Store) = (folder, postgres, store);

    internal PracticeStore Store { get; }

    internal static async Task<StoreBench> Start()
    {
        var folder = Directory.CreateTempSubdirectory("backhistory-bench-");
        // PostgreSQL does not run as root; the user that it then runs as must be let through.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(folder.FullName, folder.UnixFileMode | UnixFileMode.OtherExecute | UnixFileMode.GroupExecute);
        var postgres = await PrivatePostgres.Start(Path.Combine(folder.FullName, "postgres"), durable: true, CancellationToken.None);
        return new StoreBench(folder, postgres, await PracticeStore.Open(await postgres.ConnectionString("bench", CancellationToken.None)));
    }

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        await _postgres.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
