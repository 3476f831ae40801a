using System.Security.Claims;
using System.Text.Encodings.Web;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace BackHistory.Service.Access;

/// <summary>Signs a program in by <c>Authorization: Bearer bhk_…</c>.</summary>
public sealed class AccessKeyHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logger,
    UrlEncoder encoder,
    AccountDocuments accounts,
    AccessKeys keys,
    TimeProvider time
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string SchemeName = "AccessKey";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (!header.StartsWith("Bearer " + AccessKey.Prefix, StringComparison.Ordinal))
            return AuthenticateResult.NoResult();
        var key = await keys.Load(AccessKey.HashOf(header["Bearer ".Length..].Trim()), Context.RequestAborted);
        if (key is null || key.ExpiresAt <= time.GetUtcNow())
            return AuthenticateResult.Fail("The key is unknown or has expired.");
        var account = await accounts.Load(key.AccountId, Context.RequestAborted);
        var membership = account?.Memberships.FirstOrDefault(m => m.Practice == key.Practice);
        if (membership is null)
            return AuthenticateResult.Fail("The key is unknown or has expired.");

        if (key.LastUsed is null || time.GetUtcNow() - key.LastUsed > TimeSpan.FromMinutes(5))
            await keys.Used(key, time.GetUtcNow(), Context.RequestAborted);

        var identity = new ClaimsIdentity(
            PracticeClaims.ClaimsFor(account!, membership with { Role = (PracticeRole)Math.Min((int)membership.Role, (int)key.Most) }),
            SchemeName
        );
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), SchemeName));
    }
}
