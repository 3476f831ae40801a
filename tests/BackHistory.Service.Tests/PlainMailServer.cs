using System.Net;
using System.Net.Sockets;
using System.Text;

namespace BackHistory.Service.Tests;

/// <summary>A mail server that knows no encryption, reached by this machine's loopback and by an address that is none.</summary>
internal sealed class PlainMailServer : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Any, 0);
    private readonly List<string> _heard = [];
    private readonly List<Task> _talks = [];
    private readonly Task _running;

    public PlainMailServer()
    {
        _listener.Start();
        _running = Listen();
    }

    /// <summary>The first line that a client is told.</summary>
    public string Greeting { get; init; } = "220 plain.invalid ESMTP";

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>The machine's own address on its network; without a network its name, which is no loopback by name.</summary>
    public string Outside { get; } =
        Dns.GetHostAddresses(Dns.GetHostName())
            .FirstOrDefault(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a))
            ?.ToString()
        ?? "0.0.0.0";

    public async Task<IReadOnlyList<string>> Heard()
    {
        await Task.WhenAll(_talks);
        return _heard;
    }

    public async ValueTask DisposeAsync()
    {
        _listener.Stop();
        await _running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private async Task Listen()
    {
        while (true)
            _talks.Add(Talk(await _listener.AcceptTcpClientAsync()));
    }

    private async Task Talk(TcpClient client)
    {
        using var _ = client;
        await using var stream = client.GetStream();
        using var reader = new StreamReader(stream, Encoding.ASCII);
        await using var writer = new StreamWriter(stream, Encoding.ASCII) { NewLine = "\r\n", AutoFlush = true };
        await writer.WriteLineAsync(Greeting);
        while (await reader.ReadLineAsync() is { } line)
        {
            _heard.Add(line);
            var word = line.Split(' ')[0].ToUpperInvariant();
            await writer.WriteLineAsync(
                word is "EHLO" ? "250-plain.invalid\r\n250 8BITMIME"
                : word is "QUIT" ? "221 bye"
                : "250 ok"
            );
            if (word is "QUIT")
                return;
        }
    }
}
