using System.Security.Claims;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.SignIn;

/// <summary>Signing in and out; the forms themselves are pages. Every answer to a failed attempt is the same, whatever failed.</summary>
public static class SignInApi
{
    public static void MapSignIn(this WebApplication app)
    {
        // Open by nature: whoever signs in is not signed in yet. The antiforgery token of the form is checked.
        app.MapPost("/sign-in", SignIn).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/sign-in/code", Code).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/sign-in/recovery-code", RecoveryCode).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/sign-in/again", Again).RequireAuthorization(Policies.Myself).ExcludeFromDescription();
        app.MapPost("/sign-out", SignOut).RequireAuthorization(Policies.Myself).ExcludeFromDescription();
    }

    private static async Task<IResult> SignIn(
        HttpContext http,
        [FromForm] string? email,
        [FromForm] string? password,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        UserManager<Account> users,
        Guesses guesses
    )
    {
        if (!guesses.May(http, email))
            return TooOften(http, "/sign-in", returnUrl);
        var account = email is { Length: > 0 and <= 254 } ? await users.FindByEmailAsync(email.Trim()) : null;
        var given = password is { Length: <= 1000 } ? password : "";
        // Who is not there, or rests, takes the way of a wrong password: the answer and its time tell nothing about who has an account.
        var result =
            account?.PasswordHash is null || await users.IsLockedOutAsync(account)
                ? Nobody(users, given)
                : await signIn.PasswordSignInAsync(account, given, isPersistent: true, lockoutOnFailure: true);
        if (result.RequiresTwoFactor)
            return Results.LocalRedirect(Addresses.With("/sign-in/code", returnUrl));
        return Results.LocalRedirect(result.Succeeded ? Addresses.Local(returnUrl) ?? "/" : Addresses.With("/sign-in?failed=1", returnUrl));
    }

    private static async Task<IResult> Code(
        HttpContext http,
        [FromForm] string? code,
        [FromForm] bool? remember,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        CodeGuesses codes,
        Guesses guesses
    )
    {
        var account = await signIn.GetTwoFactorAuthenticationUserAsync();
        if (!guesses.May(http, account?.Id.ToString()))
            return TooOften(http, "/sign-in/code", returnUrl);
        var right =
            account is not null
            && !codes.Rest(account)
            && (await signIn.TwoFactorAuthenticatorSignInAsync(code ?? "", isPersistent: true, remember ?? false)).Succeeded;
        await codes.Note(account, right);
        return Results.LocalRedirect(right ? Addresses.Local(returnUrl) ?? "/" : Addresses.With("/sign-in/code?failed=1", returnUrl));
    }

    private static async Task<IResult> RecoveryCode(
        HttpContext http,
        [FromForm] string? code,
        SignInManager<Account> signIn,
        CodeGuesses codes,
        Guesses guesses
    )
    {
        var account = await signIn.GetTwoFactorAuthenticationUserAsync();
        if (!guesses.May(http, account?.Id.ToString()))
            return TooOften(http, "/sign-in/code", null);
        var right =
            account is not null && !codes.Rest(account) && (await signIn.TwoFactorRecoveryCodeSignInAsync(code?.Trim() ?? "")).Succeeded;
        await codes.Note(account, right);
        // A code is used up: whoever needed one has lost the app and is taken to where a new one is set up.
        return Results.LocalRedirect(right ? "/me/second-factor?recovered=1" : "/sign-in/code?failed=1");
    }

    /// <summary>Proves once more who one is, with everything that the first time asked for.</summary>
    private static async Task<IResult> Again(
        HttpContext http,
        [FromForm] string? password,
        [FromForm] string? code,
        [FromForm] string? returnUrl,
        SignInManager<Account> signIn,
        UserManager<Account> users,
        CodeGuesses codes,
        Guesses guesses
    )
    {
        var account = await users.GetUserAsync(http.User);
        if (account is null || !guesses.May(http, account.Id.ToString()))
            return TooOften(http, "/sign-in/again", returnUrl);
        if (account.PasswordHash is null)
            return Results.LocalRedirect(Addresses.With("/sign-in/again?failed=1", returnUrl));
        var result = await signIn.CheckPasswordSignInAsync(account, password ?? "", lockoutOnFailure: true);
        var proved = result.Succeeded;
        if (proved && account.TwoFactor)
        {
            proved = !codes.Rest(account) && await users.VerifyTwoFactorTokenAsync(account, OneTimeCodes.Name, code ?? "");
            await codes.Note(account, proved);
        }

        if (!proved)
            return Results.LocalRedirect(Addresses.With("/sign-in/again?failed=1", returnUrl));
        await signIn.SignInWithClaimsAsync(
            account,
            isPersistent: true,
            [new Claim(SignInMethods.Claim, account.TwoFactor ? SignInMethods.SecondFactor : SignInMethods.Password)]
        );
        return Results.LocalRedirect(Addresses.Local(returnUrl) ?? "/me");
    }

    private static async Task<IResult> SignOut(SignInManager<Account> signIn, [FromForm] string? _)
    {
        await signIn.SignOutAsync();
        return Results.LocalRedirect("/sign-in");
    }

    internal static IResult TooOften(HttpContext http, string page, string? returnUrl)
    {
        http.Response.Headers.RetryAfter = "60";
        return Results.LocalRedirect(Addresses.With(page + "?often=1", returnUrl));
    }

    private static Microsoft.AspNetCore.Identity.SignInResult Nobody(UserManager<Account> users, string password)
    {
        users.PasswordHasher.HashPassword(new Account(), password);
        return Microsoft.AspNetCore.Identity.SignInResult.Failed;
    }
}
