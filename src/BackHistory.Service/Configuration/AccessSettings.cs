using System.Net;
using System.Net.Sockets;

namespace BackHistory.Service.Configuration;

/// <summary>What whoever runs the service decides about signing in.</summary>
/// <param name="SecondFactor">A practice is entered with two factors only: a password and a code, or a passkey.</param>
public sealed record AccessSettings(bool SecondFactor = true)
{
    /// <summary>Sign-in services of others (OpenID Connect).</summary>
    public IReadOnlyList<ExternalProvider> External { get; init; } = [];

    /// <summary>Addresses of the administrators who may see the jobs of every practice.</summary>
    public IReadOnlyList<string> Operators { get; init; } = [];

    public AccessLimits Limits { get; init; } = new();

    /// <summary>Who may say for whom a request is passed on (<c>X-Forwarded-For</c>): a proxy's address is one of a network of one. From
    /// everybody else the header counts for nothing.</summary>
    public IReadOnlyList<IPNetwork> Proxies { get; init; } = [];

    public static AccessSettings Read(IConfiguration section) =>
        new(section["SecondFactor"] is not ("0" or "false" or "no" or "optional"))
        {
            Limits = new AccessLimits(
                section.GetValue("Limits:Guesses", 20),
                section.GetValue("Limits:PersonPerMinute", 1200),
                section.GetValue("Limits:AddressPerMinute", 300)
            ),
            Operators = section["Operators"]?.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries) ?? [],
            Proxies = [.. (section["Proxies"]?.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries) ?? []).Select(Proxy)],
            External = [.. section.GetSection("External").GetChildren().Select(ExternalProvider.Read).OfType<ExternalProvider>()],
        };

    /// <exception cref="SettingException">It is neither an address nor a network.</exception>
    private static IPNetwork Proxy(string text) =>
        IPAddress.TryParse(text, out var address) ? new IPNetwork(address, address.AddressFamily == AddressFamily.InterNetwork ? 32 : 128)
        : IPNetwork.TryParse(text, out var network) ? network
        : throw new SettingException(
            $"SignIn__Proxies names {text}, which is neither an address nor a network: it takes those of your proxies, for example "
                + "10.0.0.7 or 10.0.0.0/24, with commas between them."
        );
}
