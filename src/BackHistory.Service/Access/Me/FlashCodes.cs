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

    /// <param name="under">The address of the page that shows them: no other is sent the cookie, and what was kept for one is never
    /// shown by another.</param>
    public void Keep(HttpContext http, Guid accountId, IReadOnlyList<string> secrets, string under) =>
        http.Response.Cookies.Append(
            Cookie,
            _seal.Protect(JsonSerializer.Serialize(new Kept(accountId, under, secrets)), Life),
            Options(http, Life, under)
        );

    /// <summary>What was kept, which is gone with this.</summary>
    /// <returns>Nothing where they are another's, were altered or have been shown.</returns>
    public IReadOnlyList<string> Open(HttpContext http, Guid accountId, string under)
    {
        if (http.Request.Cookies[Cookie] is not { Length: > 0 } sealedUp)
            return [];
        http.Response.Cookies.Delete(Cookie, Options(http, null, under));
        try
        {
            return
                JsonSerializer.Deserialize<Kept>(_seal.Unprotect(sealedUp)) is { } kept
                && kept.AccountId == accountId
                && kept.Under == under
                ? kept.Secrets
                : [];
        }
        catch (Exception e) when (e is CryptographicException or JsonException or FormatException)
        {
            return [];
        }
    }

    private static CookieOptions Options(HttpContext http, TimeSpan? life, string under) =>
        new()
        {
            HttpOnly = true,
            Secure = http.Request.IsHttps,
            SameSite = SameSiteMode.Strict,
            Path = under,
            MaxAge = life,
        };

    private sealed record Kept(Guid AccountId, string Under, IReadOnlyList<string> Secrets);
}
