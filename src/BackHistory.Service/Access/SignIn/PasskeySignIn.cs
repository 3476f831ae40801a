using System.Security.Claims;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.SignIn;

/// <summary>Signing in with a passkey: the device asks its owner, no password travels, and no look-alike address gets anything
/// (WebAuthn).</summary>
public static class PasskeySignIn
{
    public static void MapPasskeySignIn(this WebApplication app)
    {
        // Open by nature: whoever signs in is not signed in yet. The antiforgery token of the form is checked.
        app.MapPost("/sign-in/passkey/options", Options).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/sign-in/passkey", SignIn).AllowAnonymous().ExcludeFromDescription();
    }

    /// <summary>A challenge for whichever passkey the device has for this address; it names no account.</summary>
    private static async Task<IResult> Options(
        HttpContext http,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        Guesses guesses
    )
    {
        _ = returnUrl;
        if (!guesses.May(http, null))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        return Results.Text(await signIn.MakePasskeyRequestOptionsAsync(null), "application/json");
    }

    private static async Task<IResult> SignIn(
        HttpContext http,
        [FromForm] string? credential,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        UserManager<Account> users,
        PasskeyChallenges challenges,
        Guesses guesses,
        ILogger<Account> log
    )
    {
        if (!guesses.May(http, null))
            return SignInApi.TooOften(http, "/sign-in", returnUrl);
        var failed = Results.LocalRedirect(Addresses.With("/sign-in?failed=passkey", returnUrl));
        if (string.IsNullOrEmpty(credential) || credential.Length > 20_000)
            return failed;
        PasskeyAssertionResult<Account> result;
        try
        {
            result = await signIn.PerformPasskeyAssertionAsync(credential);
        }
        catch (Exception e) when (e is InvalidOperationException or FormatException)
        {
            // No challenge is open, or what was sent is no answer to one.
            log.LogInformation("A passkey was refused: {Why}", e.GetType().Name);
            return failed;
        }

        // The rest after six wrong passwords is the password's: it would lock out whoever never types one.
        if (!result.Succeeded || !challenges.Once(credential))
            return failed;
        if (!(await users.AddOrUpdatePasskeyAsync(result.User, result.Passkey)).Succeeded)
            return failed;
        await signIn.SignInWithClaimsAsync(result.User, isPersistent: true, [new Claim(SignInMethods.Claim, SignInMethods.Passkey)]);
        return Results.LocalRedirect(Addresses.Local(returnUrl) ?? "/");
    }
}
