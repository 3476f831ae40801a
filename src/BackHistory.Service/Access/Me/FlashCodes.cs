using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Access.Me;

/// <summary>Secrets that are shown once, carried sealed in a cookie from the answer that made them to the page that shows them: they are
/// kept nowhere, and stand in no address that a history or a log would keep.</summary>
public sealed class FlashCodes(IDataProtectionProvider protection)
{
    private const string Cookie = "backhistory-shown-once";
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(2);
    private readonly ITimeLimitedDataProtector _seal = protection.CreateProtector("shown once").ToTimeLimitedDataProtector();

    public void Keep(HttpContext http, Guid accountId, IReadOnlyList<string> secrets) =>
        http.Response.Cookies.Append(
            Cookie,
            _seal.Protect(JsonSerializer.Serialize(new Kept(accountId, secrets)), Life),
            Options(http, Life)
        );

    /// <summary>What was kept, which is gone with this.</summary>
    /// <returns>Nothing where they are another's, were altered or have been shown.</returns>
    public IReadOnlyList<string> Open(HttpContext http, Guid accountId)
    {
        if (http.Request.Cookies[Cookie] is not { Length: > 0 } sealedUp)
            return [];
        http.Response.Cookies.Delete(Cookie, Options(http, null));
        try
        {
            return JsonSerializer.Deserialize<Kept>(_seal.Unprotect(sealedUp)) is { } kept && kept.AccountId == accountId
                ? kept.Secrets
                : [];
        }
        catch (Exception e) when (e is CryptographicException or JsonException or FormatException)
        {
            return [];
        }
    }

    private static CookieOptions Options(HttpContext http, TimeSpan? life) =>
        new()
        {
            HttpOnly = true,
            Secure = http.Request.IsHttps,
            SameSite = SameSiteMode.Strict,
            Path = "/me",
            MaxAge = life,
        };

    private sealed record Kept(Guid AccountId, IReadOnlyList<string> Secrets);
}
