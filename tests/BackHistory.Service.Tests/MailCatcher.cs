using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using MimeKit;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Net;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace BackHistory.Service.Tests;

/// <summary>How the mail server behaves once it has a letter.</summary>
internal enum MailManner
{
    Accepts,
    PutsOff,
    Refuses,
    HangsUp,
}

/// <summary>A real mail server on loopback that keeps what it is given, and can be told to be difficult.</summary>
internal sealed class MailCatcher : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _running;

    private MailCatcher(Func<MailCatcher, Task> run) => _running = run(this);

    public int Port { get; private set; }

    public MailManner Manner { get; set; }

    /// <summary>Decides anew for every letter; null leaves it at <see cref="Manner"/>.</summary>
    public Func<MimeMessage, MailManner>? Mood { get; set; }

    /// <summary>Letters in the order of arrival, also those that were then refused.</summary>
    public ConcurrentQueue<MimeMessage> Letters { get; } = new();

    public static async Task<MailCatcher> Start()
    {
        var started = new TaskCompletionSource<int>();
        var listeners = new EndpointListenerFactory();
        listeners.EndpointStarted += (_, e) => started.SetResult(((IPEndPoint)e.LocalEndPoint).Port);
        var catcher = new MailCatcher(self =>
        {
            var parts = new ServiceProvider();
            parts.Add((IEndpointListenerFactory)listeners);
            parts.Add((IMessageStore)new KeptMail(self));
            var options = new SmtpServerOptionsBuilder()
                .ServerName("mail.invalid")
                .Endpoint(e => e.Endpoint(new IPEndPoint(IPAddress.Loopback, 0)))
                .Build();
            return new SmtpServer.SmtpServer(options, parts).StartAsync(self._stop.Token);
        });
        catcher.Port = await started.Task.WaitAsync(TimeSpan.FromMinutes(5));
        return catcher;
    }

    /// <summary>Listens no more.</summary>
    public async Task Stop()
    {
        await _stop.CancelAsync();
        await _running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    public async ValueTask DisposeAsync()
    {
        await Stop();
        _stop.Dispose();
    }

    private sealed class KeptMail(MailCatcher catcher) : MessageStore
    {
        public override async Task<SmtpResponse> SaveAsync(
            ISessionContext context,
            IMessageTransaction transaction,
            ReadOnlySequence<byte> buffer,
            CancellationToken cancellationToken
        )
        {
            using var bytes = new MemoryStream(buffer.ToArray());
            var letter = await MimeMessage.LoadAsync(bytes, cancellationToken);
            catcher.Letters.Enqueue(letter);
            switch (catcher.Mood?.Invoke(letter) ?? catcher.Manner)
            {
                case MailManner.PutsOff:
                    return new SmtpResponse(SmtpReplyCode.Aborted, "come again later");
                case MailManner.Refuses:
                    return SmtpResponse.MailboxUnavailable;
                case MailManner.HangsUp:
                    ((IDisposable)context.Pipe).Dispose();
                    throw new IOException("hung up");
                default:
                    return SmtpResponse.Ok;
            }
        }
    }
}
