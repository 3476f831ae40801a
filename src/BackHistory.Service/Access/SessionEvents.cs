using System.Globalization;
using System.Security.Claims;
using System.Security.Cryptography;
using System.Text;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace BackHistory.Service.Access;

/// <summary>
/// What happens to the sign-in cookie. The cookie names a session that can be ended; at every request the session and the account are
/// looked at as they are now, so that a membership that was taken away is gone with the next click.
/// </summary>
public sealed class SessionEvents(
    SignInSessions sessions,
    AccountDocuments accounts,
    IUserClaimsPrincipalFactory<Account> principals,
    IOptions<IdentityOptions> identity,
    TimeProvider time
) : CookieAuthenticationEvents
{
    private static readonly TimeSpan SeenEvery = TimeSpan.FromMinutes(5);

    /// <summary>The hash under which the session of this browser is kept; null without one.</summary>
    public static string? SessionOf(ClaimsPrincipal user) =>
        user.FindFirstValue(PracticeClaims.Session) is { Length: > 0 } secret ? HashOf(secret) : null;

    public override async Task SigningIn(CookieSigningInContext context)
    {
        var who = (ClaimsIdentity)context.Principal!.Identity!;
        var account = Guid.Parse(who.FindFirst(ClaimTypes.NameIdentifier)!.Value);
        // Whoever proves again who they are gets a new session in place of the old one.
        if (SessionOf(context.HttpContext.User) is { } earlier && AccountOf(context.HttpContext.User) is { } before)
            await sessions.End(before, earlier, context.HttpContext.RequestAborted);
        var secret = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));
        var method =
            who.FindFirst(SignInMethods.Claim)?.Value ?? who.FindFirst(ClaimTypes.AuthenticationMethod)?.Value ?? SignInMethods.Password;
        var now = time.GetUtcNow();
        foreach (var old in who.FindAll(PracticeClaims.Session).ToList())
            who.RemoveClaim(old);
        who.AddClaim(new Claim(PracticeClaims.Session, secret));
        await sessions.Add(
            new SignInSession(
                HashOf(secret),
                account,
                now,
                now,
                now,
                method,
                Devices.NameOf(context.HttpContext.Request.Headers.UserAgent.ToString())
            ),
            context.HttpContext.RequestAborted
        );
    }

    public override async Task ValidatePrincipal(CookieValidatePrincipalContext context)
    {
        var ct = context.HttpContext.RequestAborted;
        var user = context.Principal!;
        if (
            SessionOf(user) is not { } id
            || AccountOf(user) is not { } accountId
            || await sessions.Living(id, ct) is not { } session
            || session.AccountId != accountId
            || await accounts.Load(accountId, ct) is not { } account
            || user.FindFirstValue(identity.Value.ClaimsIdentity.SecurityStampClaimType) != account.SecurityStamp
        )
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
            return;
        }

        var fresh = await principals.CreateAsync(account);
        var claims = (ClaimsIdentity)fresh.Identity!;
        claims.AddClaim(new Claim(PracticeClaims.Session, user.FindFirstValue(PracticeClaims.Session)!));
        claims.AddClaim(new Claim(SignInMethods.Claim, session.Method));
        claims.AddClaim(
            new Claim(PracticeClaims.ConfirmedAt, session.ConfirmedAt.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture))
        );
        if (account.Invented || account.TwoFactor || SignInMethods.AreTwo(session.Method))
            claims.AddClaim(new Claim(PracticeClaims.SecondFactor, "1"));
        if (account is { Invented: false, TwoFactor: false, Passkeys.Count: > 0 } && !SignInMethods.AreTwo(session.Method))
            claims.AddClaim(new Claim(PracticeClaims.HalfProved, "1"));
        context.ReplacePrincipal(fresh);
        if (time.GetUtcNow() - session.SeenAt > SeenEvery)
            await sessions.Change(id, s => s with { SeenAt = time.GetUtcNow() }, ct);
    }

    public override async Task SigningOut(CookieSigningOutContext context)
    {
        if (SessionOf(context.HttpContext.User) is { } id && AccountOf(context.HttpContext.User) is { } account)
            await sessions.End(account, id, CancellationToken.None);
    }

    /// <summary>A program gets a status, a person gets the page. Where it lies is said without a host: the framework's own address has
    /// the one that the request names, and anybody can write that.</summary>
    public override Task RedirectToLogin(RedirectContext<CookieAuthenticationOptions> context) =>
        Turn(context, StatusCodes.Status401Unauthorized, new Uri(context.RedirectUri, UriKind.Absolute).PathAndQuery);

    public override Task RedirectToAccessDenied(RedirectContext<CookieAuthenticationOptions> context)
    {
        var user = context.HttpContext.User;
        if (AccountOf(user) is null)
            return Turn(context, StatusCodes.Status403Forbidden, "/not-yours");
        var request = context.Request;
        var back = HttpMethods.IsGet(request.Method) ? request.Path + request.QueryString : "/me";
        // Whoever knows only the password of an account with a passkey sets nothing up for it and enters nothing: the passkey is asked for.
        if (Freshness.IsHalf(user) || (Freshness.IsDemanded(context.HttpContext) && !Freshness.Has(user, time)))
            return Turn(context, StatusCodes.Status403Forbidden, "/sign-in/again?returnUrl=" + Uri.EscapeDataString(back));
        // Whoever works in no practice has nothing here but what was shared with them.
        if (!user.HasClaim(c => c.Type == PracticeClaims.Practice))
            return Turn(context, StatusCodes.Status403Forbidden, request.Path == "/" ? "/shared-with-me" : "/not-yours");
        return Turn(
            context,
            StatusCodes.Status403Forbidden,
            user.HasClaim(c => c.Type == PracticeClaims.SecondFactor) ? "/not-yours" : "/me/second-factor"
        );
    }

    internal static Guid? AccountOf(ClaimsPrincipal user) =>
        Guid.TryParse(user.FindFirstValue(ClaimTypes.NameIdentifier), out var id) ? id : null;

    private static string HashOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    private static Task Turn(RedirectContext<CookieAuthenticationOptions> context, int status, string page)
    {
        if (context.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
            context.Response.StatusCode = status;
        else
            context.Response.Redirect(page);
        return Task.CompletedTask;
    }
}
