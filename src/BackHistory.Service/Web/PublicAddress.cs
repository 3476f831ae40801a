using BackHistory.Service.Configuration;

namespace BackHistory.Service.Web;

/// <summary>
/// Behind a proxy that ends the encryption a request arrives as plain http to another name. Which address people use stands in the
/// settings: cookies, passkeys and sign-in services go by that, and by nothing that a request says of itself.
/// </summary>
public static class PublicAddressSetup
{
    public static void UsePublicAddress(this WebApplication app, Settings settings)
    {
        if (settings.PublicUrl is not { } url)
            return;
        var host = url.IsDefaultPort ? new HostString(url.Host) : new HostString(url.Host, url.Port);
        app.Use(
            (http, next) =>
            {
                (http.Request.Scheme, http.Request.Host) = (url.Scheme, host);
                return next(http);
            }
        );
    }
}
