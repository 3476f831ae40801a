using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace BackHistory.Store.Tests;

/// <summary>
/// Stands between Npgsql and PostgreSQL and, when told to, lets a COMMIT through and loses its reply: the connection breaks when the
/// database has already committed.
/// </summary>
internal sealed class LostReplies : IAsyncDisposable
{
    // A simple query of the protocol, version 3 (PostgreSQL documentation, "Message Formats"): its text ends with a zero byte.
    private static readonly byte[] Commit = "COMMIT\0"u8.ToArray();
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _over = new();
    private readonly (string Host, int Port) _server;
    private readonly Task _accepting;
    private int _seen;

    public LostReplies(string connection)
    {
        var to = new NpgsqlConnectionStringBuilder(connection);
        _server = (to.Host!, to.Port);
        _listener.Start();
        to.Host = "127.0.0.1";
        to.Port = ((IPEndPoint)_listener.LocalEndpoint).Port;
        to.SslMode = SslMode.Disable;
        ConnectionString = to.ConnectionString;
        _accepting = Accept();
    }

    public string ConnectionString { get; }

    /// <summary>Which COMMITs, counted from one, lose their reply; none until it is set.</summary>
    public Func<int, bool> Loses { get; set; } = _ => false;

    public int Lost { get; private set; }

    public async ValueTask DisposeAsync()
    {
        await _over.CancelAsync();
        _listener.Stop();
        await _accepting;
        _over.Dispose();
    }

    private async Task Accept()
    {
        var connections = new List<Task>();
        try
        {
            while (true)
                connections.Add(Between(await _listener.AcceptTcpClientAsync(_over.Token)));
        }
        catch (Exception e) when (e is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            await Task.WhenAll(connections);
        }
    }

    private async Task Between(TcpClient client)
    {
        using var near = client;
        using var far = new TcpClient();
        try
        {
            await far.ConnectAsync(_server.Host, _server.Port, _over.Token);
            (near.NoDelay, far.NoDelay) = (true, true);
            using var broken = CancellationTokenSource.CreateLinkedTokenSource(_over.Token);
            var losing = new StrongBox(false);
            await Task.WhenAny(
                Asks(near.GetStream(), far.GetStream(), losing, broken.Token),
                Answers(far.GetStream(), near.GetStream(), losing, broken.Token)
            );
            await broken.CancelAsync();
        }
        catch (Exception e) when (e is OperationCanceledException or IOException or SocketException)
        {
            // One of the two went away; so does the other.
        }
    }

    private async Task Asks(NetworkStream from, NetworkStream to, StrongBox losing, CancellationToken ct)
    {
        var buffer = new byte[1 << 16];
        while (await Read(from, buffer, ct) is > 0 and var n)
        {
            if (buffer.AsSpan(0, n).IndexOf(Commit) >= 0 && Loses(Interlocked.Increment(ref _seen)))
                losing.Value = true;
            await to.WriteAsync(buffer.AsMemory(0, n), ct);
        }
    }

    private async Task Answers(NetworkStream from, NetworkStream to, StrongBox losing, CancellationToken ct)
    {
        var buffer = new byte[1 << 16];
        while (await Read(from, buffer, ct) is > 0 and var n)
        {
            // What arrives now is the reply to COMMIT: it is done, and nobody hears of it.
            if (losing.Value)
            {
                Lost++;
                return;
            }

            await to.WriteAsync(buffer.AsMemory(0, n), ct);
        }
    }

    private static async Task<int> Read(NetworkStream from, byte[] buffer, CancellationToken ct)
    {
        try
        {
            return await from.ReadAsync(buffer, ct);
        }
        catch (Exception e) when (e is IOException or OperationCanceledException)
        {
            return 0;
        }
    }

    private sealed class StrongBox(bool value)
    {
        public volatile bool Value = value;
    }
}
