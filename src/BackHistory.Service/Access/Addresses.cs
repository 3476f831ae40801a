using BackHistory.Service.Configuration;

namespace BackHistory.Service.Access;

/// <summary>Addresses of this service as letters and redirects use them: from the settings, never from what a request says of its
/// host.</summary>
public static class Addresses
{
    public static string Root(Settings settings) => settings.PublicUrl?.ToString().TrimEnd('/') ?? settings.Urls.Split(';')[0].TrimEnd('/');

    /// <summary>A path on this service, or null: whoever follows a link comes back here and nowhere else.</summary>
    public static string? Local(string? url) =>
        url is { Length: > 0 and < 2000 }
        && url[0] == '/'
        && !url.StartsWith("//", StringComparison.Ordinal)
        && !url.Contains('\\', StringComparison.Ordinal)
        && !url.Any(char.IsControl)
            ? url
            : null;

    /// <summary><paramref name="page"/> with its return address, where it has one.</summary>
    public static string With(string page, string? returnUrl) =>
        Local(returnUrl) is { } back
            ? $"{page}{(page.Contains('?', StringComparison.Ordinal) ? '&' : '?')}returnUrl={Uri.EscapeDataString(back)}"
            : page;
}
