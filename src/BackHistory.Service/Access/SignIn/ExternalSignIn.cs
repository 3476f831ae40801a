using System.Security.Claims;
using BackHistory.Service.Configuration;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;

namespace BackHistory.Service.Access.SignIn;

/// <summary>
/// Signing in with an account elsewhere (OpenID Connect, code flow with PKCE). Such an account is tied to one of ours by its owner,
/// signed in to both; an address that somebody there claims to have opens nothing here.
/// </summary>
public static class ExternalSignIn
{
    private const string AddedPath = "/me/sign-in-services/added";

    public static AuthenticationBuilder AddProviders(this AuthenticationBuilder builder, AccessSettings settings)
    {
        foreach (var provider in settings.External)
            builder.AddOpenIdConnect(provider.Scheme, provider.Name, o => Configure(o, provider));
        return builder;
    }

    public static void MapExternalSignIn(this WebApplication app)
    {
        // Open by nature: whoever signs in is not signed in yet. The antiforgery token of the form is checked.
        app.MapPost("/sign-in/with", Begin).AllowAnonymous().ExcludeFromDescription();
        // Open by nature: where the sign-in service sends people back to; what it says is sealed in a cookie of a quarter of an hour.
        app.MapGet("/sign-in/back", Back).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/me/sign-in-services/add", Add).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
        app.MapGet(AddedPath, Added).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
        app.MapPost("/me/sign-in-services/remove", Remove).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
    }

    private static void Configure(OpenIdConnectOptions o, ExternalProvider provider)
    {
        o.SignInScheme = IdentityConstants.ExternalScheme;
        o.Authority = provider.Authority.ToString();
        o.RequireHttpsMetadata = !provider.Authority.IsLoopback;
        o.ClientId = provider.ClientId;
        o.ClientSecret = provider.ClientSecret;
        o.ResponseType = OpenIdConnectResponseType.Code;
        // By address and not by form, so that the cookies of the round trip need not be sent along by other sites' forms.
        o.ResponseMode = OpenIdConnectResponseMode.Query;
        o.UsePkce = true;
        // A person waits for it.
        o.BackchannelTimeout = TimeSpan.FromSeconds(30);
        o.MapInboundClaims = false;
        o.SaveTokens = false;
        o.CallbackPath = provider.CallbackPath;
        o.NonceCookie.SameSite = o.CorrelationCookie.SameSite = SameSiteMode.Lax;
        o.NonceCookie.SecurePolicy = o.CorrelationCookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        o.Scope.Clear();
        o.Scope.Add("openid");
        o.TokenValidationParameters.NameClaimType = "sub";
        o.ClaimActions.Clear();
        o.Events.OnTokenValidated = context =>
        {
            // Identity looks for the person under this name.
            if (context.Principal?.FindFirstValue("sub") is { } sub)
                ((ClaimsIdentity)context.Principal.Identity!).AddClaim(new Claim(ClaimTypes.NameIdentifier, sub));
            return Task.CompletedTask;
        };
        o.Events.OnRemoteFailure = context =>
        {
            context.Response.Redirect(After(context.Properties?.RedirectUri));
            context.HandleResponse();
            return Task.CompletedTask;
        };
    }

    /// <summary>Where a round trip that failed comes back to: the page on which it began, as far as that is known.</summary>
    private static string After(string? redirect)
    {
        if (redirect?.StartsWith(AddedPath, StringComparison.Ordinal) == true)
            return "/me/sign-in-services?failed=1";
        var returnUrl = redirect?.IndexOf('?', StringComparison.Ordinal) is >= 0 and var at
            ? QueryHelpers.ParseQuery(redirect[at..])["returnUrl"].ToString()
            : null;
        return Addresses.With("/sign-in?failed=elsewhere", returnUrl);
    }

    private static IResult Begin(
        HttpContext http,
        [FromForm] string? provider,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        Settings settings,
        Guesses guesses
    )
    {
        if (!guesses.May(http, null))
            return SignInApi.TooOften(http, "/sign-in", returnUrl);
        var failed = Addresses.With("/sign-in?failed=elsewhere", returnUrl);
        if (Known(settings, provider) is not { } known)
            return Results.LocalRedirect(failed);
        var errand = signIn.ConfigureExternalAuthenticationProperties(provider, Addresses.With("/sign-in/back", returnUrl));
        return new GoingOn(known, errand, failed);
    }

    private static async Task<IResult> Back(HttpContext http, string? returnUrl, SignInManager<Account> signIn)
    {
        var info = await signIn.GetExternalLoginInfoAsync();
        if (info is null)
            return Results.LocalRedirect(Addresses.With("/sign-in?failed=elsewhere", returnUrl));
        var result = await signIn.ExternalLoginSignInAsync(
            info.LoginProvider,
            info.ProviderKey,
            isPersistent: true,
            bypassTwoFactor: false
        );
        if (result.RequiresTwoFactor)
            return Results.LocalRedirect(Addresses.With("/sign-in/code", returnUrl));
        await http.SignOutAsync(IdentityConstants.ExternalScheme);
        if (result.Succeeded)
            return Results.LocalRedirect(Addresses.Local(returnUrl) ?? "/");
        return Results.LocalRedirect(Addresses.With($"/sign-in?failed={(result.IsLockedOut ? "1" : "not-tied")}", returnUrl));
    }

    private static IResult Add(HttpContext http, [FromForm] string? provider, SignInManager<Account> signIn, Settings settings)
    {
        if (Known(settings, provider) is not { } known)
            return Results.LocalRedirect("/me/sign-in-services");
        var account = SessionEvents.AccountOf(http.User)!.Value.ToString();
        return new GoingOn(
            known,
            signIn.ConfigureExternalAuthenticationProperties(provider, AddedPath, account),
            "/me/sign-in-services?failed=1"
        );
    }

    private static async Task<IResult> Added(HttpContext http, SignInManager<Account> signIn, UserManager<Account> users)
    {
        // Only for the account that set out: the answer to another's errand ties nothing.
        if (
            await users.GetUserAsync(http.User) is not { } account
            || await signIn.GetExternalLoginInfoAsync(account.Id.ToString()) is not { } info
        )
            return Results.LocalRedirect("/me/sign-in-services?failed=1");
        var result = await users.AddLoginAsync(account, info);
        await http.SignOutAsync(IdentityConstants.ExternalScheme);
        if (!result.Succeeded)
            return Results.LocalRedirect("/me/sign-in-services?failed=1");
        await signIn.RefreshSignInAsync(account);
        return Results.LocalRedirect("/me/sign-in-services?done=1");
    }

    private static async Task<IResult> Remove(
        HttpContext http,
        [FromForm] string? provider,
        [FromForm] string? key,
        UserManager<Account> users,
        SignInManager<Account> signIn
    )
    {
        if (await users.GetUserAsync(http.User) is not { } account)
            return Results.LocalRedirect("/me");
        if (account.PasswordHash is null && account.Passkeys.Count == 0)
            return Results.LocalRedirect("/me/sign-in-services?failed=last");
        await users.RemoveLoginAsync(account, provider ?? "", key ?? "");
        await signIn.RefreshSignInAsync(account);
        return Results.LocalRedirect("/me/sign-in-services?done=1");
    }

    private static ExternalProvider? Known(Settings settings, string? scheme) =>
        settings.Access.External.FirstOrDefault(p => p.Scheme == scheme);
}
