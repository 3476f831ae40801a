using System.Net;
using System.Net.Sockets;

namespace BackHistory.Service.Archives;

/// <summary>Whether webhooks may be sent inside the own network; a practice's administrator must not reach through this service what only
/// it can reach.</summary>
public sealed record WebhookAddresses(bool Private);

/// <summary>Somebody asked to be told at an address inside this network.</summary>
internal sealed class ForbiddenAddressException() : IOException("The address is not on the public network.");

/// <summary>The way out for webhooks: no redirects, a short patience, public addresses only.</summary>
internal static class WebhookClient
{
    private static readonly IPNetwork[] Inside =
    [
        IPNetwork.Parse("0.0.0.0/8"),
        IPNetwork.Parse("10.0.0.0/8"),
        IPNetwork.Parse("100.64.0.0/10"),
        IPNetwork.Parse("127.0.0.0/8"),
        IPNetwork.Parse("169.254.0.0/16"),
        IPNetwork.Parse("172.16.0.0/12"),
        IPNetwork.Parse("192.168.0.0/16"),
        IPNetwork.Parse("224.0.0.0/3"),
        IPNetwork.Parse("::/127"),
        IPNetwork.Parse("fc00::/7"),
        IPNetwork.Parse("fe80::/10"),
        IPNetwork.Parse("ff00::/8"),
    ];

    public static IServiceCollection AddWebhooks(this IServiceCollection services, bool toPrivateAddresses)
    {
        services.AddSingleton(new WebhookAddresses(toPrivateAddresses));
        services.AddSingleton<WebhookJob>();
        services
            .AddHttpClient(WebhookJob.Client, client => client.Timeout = TimeSpan.FromSeconds(15))
            .ConfigurePrimaryHttpMessageHandler(provider => new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseCookies = false,
                UseProxy = false,
                ConnectCallback = (context, ct) => Connect(context, provider.GetRequiredService<WebhookAddresses>(), ct),
            });
        return services;
    }

    /// <summary>Looks at the address that is connected to, not at a name that may mean another in a moment.</summary>
    private static async ValueTask<Stream> Connect(SocketsHttpConnectionContext context, WebhookAddresses allowed, CancellationToken ct)
    {
        var addresses = await Dns.GetHostAddressesAsync(context.DnsEndPoint.Host, ct);
        if (!allowed.Private && addresses.Any(a => IsInside(a.IsIPv4MappedToIPv6 ? a.MapToIPv4() : a)))
            throw new ForbiddenAddressException();
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(addresses, context.DnsEndPoint.Port, ct);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    internal static bool IsInside(IPAddress address) => Array.Exists(Inside, n => n.Contains(address));
}
