using System.Globalization;
using BackHistory.Store;
using DotNet.Testcontainers.Builders;
using Npgsql;
using Testcontainers.PostgreSql;

namespace BackHistory.Testing;

/// <summary>
/// The PostgreSQL of one test run: the one that <c>ConnectionStrings__Main</c> names, else a container where an engine answers, else a
/// private cluster. The choice is printed. Every caller gets a database of its own.
/// </summary>
public sealed class TestServer : IAsyncDisposable
{
    private static readonly SemaphoreSlim Gate = new(1, 1);
    private static TestServer? _running;
    private static int _databases;
    private readonly Func<string, Task<string>> _database;
    private readonly IAsyncDisposable? _owned;

    private TestServer(Func<string, Task<string>> database, IAsyncDisposable? owned) => (_database, _owned) = (database, owned);

    /// <summary>A connection string to a fresh, empty database.</summary>
    public static async Task<string> NewDatabase()
    {
        await Gate.WaitAsync();
        try
        {
            _running ??= await Start();
        }
        finally
        {
            Gate.Release();
        }

        var name = string.Create(CultureInfo.InvariantCulture, $"test_{Environment.ProcessId}_{Interlocked.Increment(ref _databases)}");
        return await _running._database(name);
    }

    /// <summary>Stops what this run started.</summary>
    public static async Task Stop()
    {
        if (_running is { } running)
            await running.DisposeAsync();
        _running = null;
    }

    public async ValueTask DisposeAsync()
    {
        if (_owned is not null)
            await _owned.DisposeAsync();
    }

    private static async Task<TestServer> Start()
    {
        if (Environment.GetEnvironmentVariable("ConnectionStrings__Main") is { Length: > 0 } given)
        {
            Console.WriteLine("PostgreSQL: the one that ConnectionStrings__Main names");
            return new TestServer(name => Create(given, name), null);
        }

        try
        {
            var container = new PostgreSqlBuilder("postgres:15").Build();
            await container.StartAsync();
            Console.WriteLine("PostgreSQL: a container");
            return new TestServer(name => Create(container.GetConnectionString(), name), container);
        }
        catch (DockerUnavailableException)
        {
            Console.WriteLine("PostgreSQL: a private cluster (no container engine answers)");
        }

        var folder = Directory.CreateTempSubdirectory("backhistory-tests-");
        if (!OperatingSystem.IsWindows() && Environment.IsPrivilegedProcess)
            File.SetUnixFileMode(folder.FullName, folder.UnixFileMode | UnixFileMode.OtherExecute | UnixFileMode.GroupExecute);
        var postgres = await PrivatePostgres.Start(Path.Combine(folder.FullName, "postgres"), durable: false, CancellationToken.None);
        return new TestServer(name => postgres.ConnectionString(name, CancellationToken.None), new Cluster(postgres, folder));
    }

    private static async Task<string> Create(string server, string name)
    {
        await using var connection = new NpgsqlConnection(server);
        await connection.OpenAsync();
        await using var drop = new NpgsqlCommand($"drop database if exists \"{name}\" with (force)", connection);
        await drop.ExecuteNonQueryAsync();
        await using var create = new NpgsqlCommand($"create database \"{name}\"", connection);
        await create.ExecuteNonQueryAsync();
        return new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
    }

    private sealed class Cluster(PrivatePostgres postgres, DirectoryInfo folder) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await postgres.DisposeAsync();
            folder.Delete(recursive: true);
        }
    }
}
