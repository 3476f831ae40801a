using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Npgsql;

namespace BackHistory.Store;

/// <summary>
/// A PostgreSQL of the service's own, for whoever has no other: a cluster under the state folder, on loopback, with a password, started
/// and stopped with the service. A cluster that a killed service left running is taken over.
/// </summary>
public sealed class PrivatePostgres : IAsyncDisposable
{
    private const int MostTries = 300;
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(200);
    private readonly string _bin;
    private readonly string _data;
    private readonly string _password;
    private readonly int _port;

    private PrivatePostgres(string bin, string data, string password, int port) =>
        (_bin, _data, _password, _port) = (bin, data, password, port);

    /// <summary>Starts the cluster under <paramref name="folder"/>, made on first use.</summary>
    /// <param name="durable">False only for tests: a crash may then lose data.</param>
    /// <exception cref="PostgresMissingException">No PostgreSQL is installed, or it would not start; the message says what to
    /// do.</exception>
    public static async Task<PrivatePostgres> Start(string folder, bool durable, CancellationToken ct)
    {
        var bin = FindBinaries();
        var home = Reachable(Path.GetFullPath(folder));
        await LetThrough(Path.GetDirectoryName(home)!, ct);
        var data = Path.Combine(home, "data");
        var secret = Path.Combine(home, "password");
        if (!IsBegun(home))
            await Initialise(bin, home, data, secret, ct);
        var password = (await File.ReadAllTextAsync(secret, ct)).Trim();

        if (await TakeOver(bin, data, password, ct) is { } running)
            return running;
        var port = FreePort();
        string[] settings =
        [
            $"-p {port}",
            "-c listen_addresses=127.0.0.1",
            "-c unix_socket_directories=",
            // Tests keep many services on one cluster; a service by itself holds about twenty.
            $"-c max_connections={(durable ? 200 : 600)}",
            "-c shared_buffers=256MB",
            "-c log_timezone=UTC",
            "-c timezone=UTC",
            .. durable ? Array.Empty<string>() : ["-c fsync=off", "-c synchronous_commit=off", "-c full_page_writes=off"],
        ];
        await Run(
            bin,
            "pg_ctl",
            ["start", "-D", data, "-w", "-t", "60", "-l", Path.Combine(home, "postgres.log"), "-o", string.Join(' ', settings)],
            ct
        );
        return new PrivatePostgres(bin, data, password, port);
    }

    /// <summary>For the named database, which is created where it is missing.</summary>
    public async Task<string> ConnectionString(string database, CancellationToken ct)
    {
        await using var connection = new NpgsqlConnection(For("postgres"));
        await connection.OpenAsync(ct);
        await using var exists = new NpgsqlCommand("select 1 from pg_database where datname = $1", connection)
        {
            Parameters = { new() { Value = database } },
        };
        if (await exists.ExecuteScalarAsync(ct) is null)
        {
            await using var create = new NpgsqlCommand(
                $"create database \"{database.Replace("\"", "\"\"", StringComparison.Ordinal)}\"",
                connection
            );
            await create.ExecuteNonQueryAsync(ct);
        }

        return For(database);
    }

    public async ValueTask DisposeAsync() =>
        await Run(_bin, "pg_ctl", ["stop", "-D", _data, "-m", "fast", "-w", "-t", "60"], CancellationToken.None);

    private string For(string database) =>
        new NpgsqlConnectionStringBuilder
        {
            Host = "127.0.0.1",
            Port = _port,
            Username = "backhistory",
            Password = _password,
            Database = database,
            MaxPoolSize = 60,
        }.ConnectionString;

    private static async Task Initialise(string bin, string home, string data, string secret, CancellationToken ct)
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(home);
        else
            Directory.CreateDirectory(home, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        await File.WriteAllTextAsync(secret, Convert.ToHexString(RandomNumberGenerator.GetBytes(24)), ct);
        Secrets.Close(secret);
        if (Environment.IsPrivilegedProcess)
            await Plain("chown", ["-R", "postgres", home], ct);
        // Made beside its place and moved there whole: what an interrupted start leaves behind is made again.
        var half = data + ".new";
        if (Directory.Exists(half))
            Directory.Delete(half, recursive: true);
        await Run(
            bin,
            "initdb",
            [
                "-D",
                half,
                "-U",
                "backhistory",
                "--pwfile",
                secret,
                "--auth=scram-sha-256",
                "-E",
                "UTF8",
                "--locale=C.UTF-8",
                "--data-checksums",
            ],
            ct
        );
        Directory.Move(half, data);
    }

    /// <summary>The server that a killed service left running on this data; null when there is none, or none any more.</summary>
    private static async Task<PrivatePostgres?> TakeOver(string bin, string data, string password, CancellationToken ct)
    {
        for (var tries = 0; await RunningPort(bin, data, ct) is { } port; tries++)
        {
            var left = new PrivatePostgres(bin, data, password, port);
            if (await left.Answers(ct))
                return left;
            if (tries == MostTries)
                throw new PostgresMissingException($"A PostgreSQL is running on {data} but does not answer on port {port}.");
            await Task.Delay(Pause, ct);
        }

        return null;
    }

    /// <summary>False while it is still starting, or stopping already.</summary>
    private async Task<bool> Answers(CancellationToken ct)
    {
        try
        {
            await using var connection = new NpgsqlConnection(For("postgres") + ";Pooling=false");
            await connection.OpenAsync(ct);
            return true;
        }
        catch (PostgresException e) when (e.SqlState != PostgresErrorCodes.CannotConnectNow)
        {
            throw new PostgresMissingException($"The PostgreSQL that is running on {_data} does not let its owner in: {e.MessageText}");
        }
        catch (NpgsqlException)
        {
            return false;
        }
    }

    /// <summary>The port of a server that is running on this data already, as its own pid file says.</summary>
    private static async Task<int?> RunningPort(string bin, string data, CancellationToken ct)
    {
        var pidFile = Path.Combine(data, "postmaster.pid");
        if (!File.Exists(pidFile))
            return null;
        var (status, _) = await Try(bin, "pg_ctl", ["status", "-D", data], ct);
        if (status != 0)
            return null;
        var lines = await File.ReadAllLinesAsync(pidFile, ct);
        return lines.Length > 3 && int.TryParse(lines[3], CultureInfo.InvariantCulture, out var port) ? port : null;
    }

    private static string FindBinaries()
    {
        var onPath = (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(':')
            .FirstOrDefault(d => File.Exists(Path.Combine(d, "initdb")));
        if (onPath is not null)
            return onPath;
        const string debian = "/usr/lib/postgresql";
        var newest = Directory.Exists(debian)
            ? Directory
                .GetDirectories(debian)
                .Where(d => File.Exists(Path.Combine(d, "bin", "initdb")))
                .MaxBy(d => int.TryParse(Path.GetFileName(d), CultureInfo.InvariantCulture, out var v) ? v : 0)
            : null;
        return newest is null
            ? throw new PostgresMissingException(
                "No PostgreSQL was found. Install it (Debian: apt-get install postgresql) or name your own with ConnectionStrings__Main."
            )
            : Path.Combine(newest, "bin");
    }

    /// <summary>PostgreSQL refuses to run as root, and the user it then runs as may not be let into root's folders: such a cluster lies
    /// elsewhere, and stays where it was begun.</summary>
    private static string Reachable(string folder)
    {
        if (OperatingSystem.IsWindows() || !Environment.IsPrivilegedProcess || IsBegun(folder))
            return folder;
        var name = Convert.ToHexString(SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(folder)))[..16];
        var elsewhere = Path.Combine("/var/lib/backhistory", name);
        if (IsBegun(elsewhere))
            return elsewhere;
        // Through the folder in which it lies it is let as a group; what is above that is not the service's to open.
        for (var d = Directory.GetParent(folder)?.Parent; d is not null; d = d.Parent)
            if (d.Exists && !File.GetUnixFileMode(d.FullName).HasFlag(UnixFileMode.OtherExecute))
                return elsewhere;
        return folder;
    }

    private static bool IsBegun(string folder) => File.Exists(Path.Combine(folder, "data", "PG_VERSION"));

    /// <summary>Run as root, PostgreSQL is another user, who must get through a folder that is closed to everybody: as its group, which
    /// reads no names there. Nobody else is let in.</summary>
    private static async Task LetThrough(string folder, CancellationToken ct)
    {
        if (OperatingSystem.IsWindows() || !Environment.IsPrivilegedProcess || !Directory.Exists(folder))
            return;
        var mode = File.GetUnixFileMode(folder);
        if (mode.HasFlag(UnixFileMode.OtherExecute))
            return;
        await Plain("chgrp", ["postgres", folder], ct);
        File.SetUnixFileMode(folder, mode | UnixFileMode.GroupExecute);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private static async Task Run(string bin, string tool, string[] arguments, CancellationToken ct)
    {
        var (status, output) = await Try(bin, tool, arguments, ct);
        if (status != 0)
            throw new PostgresMissingException($"{tool} ended with status {status}: {output.Trim()}");
    }

    private static Task<(int Status, string Output)> Try(string bin, string tool, string[] arguments, CancellationToken ct) =>
        Environment.IsPrivilegedProcess
            ? Plain("runuser", ["-u", "postgres", "--", Path.Combine(bin, tool), .. arguments], ct)
            : Plain(Path.Combine(bin, tool), arguments, ct);

    private static async Task<(int Status, string Output)> Plain(string file, string[] arguments, CancellationToken ct)
    {
        // The server that pg_ctl starts inherits its streams and keeps them open: the tool's end is waited for, not theirs.
        var start = new ProcessStartInfo(file, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
            WorkingDirectory = "/",
        };
        using var process = Process.Start(start) ?? throw new PostgresMissingException($"{file} could not be started.");
        var text = new System.Text.StringBuilder();
        process.OutputDataReceived += (_, e) =>
        {
            lock (text)
                text.AppendLine(e.Data);
        };
        process.ErrorDataReceived += (_, e) =>
        {
            lock (text)
                text.AppendLine(e.Data);
        };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        while (!process.HasExited)
            await Task.Delay(20, ct);
        lock (text)
            return (process.ExitCode, text.ToString());
    }
}
