using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.HttpOverrides;

namespace BackHistory.Service.Web;

/// <summary>
/// Behind a proxy every request comes from the proxy's address. Whose it is, the proxy says; only one that stands in the settings is
/// believed, and of what it passes on only what such proxies added themselves: the rest of the header is whatever the sender wrote.
/// Scheme and host are not taken from headers at all (<see cref="PublicAddressSetup"/>).
/// </summary>
public static class Proxies
{
    public static void UseProxies(this WebApplication app, Settings settings)
    {
        if (settings.Access.Proxies.Count == 0)
            return;
        // As many hops as there are proxies in a row; it ends at the first that is not ours.
        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor, ForwardLimit = null };
        // Unless told otherwise the framework believes everything on this machine.
        options.KnownProxies.Clear();
        options.KnownIPNetworks.Clear();
        foreach (var network in settings.Access.Proxies)
            options.KnownIPNetworks.Add(network);
        app.UseForwardedHeaders(options);
    }
}
