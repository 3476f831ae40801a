using System.Buffers.Text;
using System.Security.Claims;
using BackHistory.Service.Access.Letters;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Me;

/// <summary>Authenticator app, recovery codes and passkeys of one's own account.</summary>
public static class SecondFactorApi
{
    private const int Codes = 10;
    private const int MostPasskeys = 20;

    public static void MapSecondFactor(this WebApplication app)
    {
        var me = app.MapGroup("/me").RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
        me.MapPost("/second-factor/begin", Begin);
        me.MapPost("/second-factor/confirm", Confirm);
        me.MapPost("/second-factor/off", Off);
        me.MapPost("/second-factor/codes", NewCodes);
        me.MapPost("/passkeys/options", PasskeyOptions);
        me.MapPost("/passkeys", AddPasskey);
        me.MapPost("/passkeys/remove", RemovePasskey);
    }

    /// <summary>A new secret, which counts once a code from it has come back.</summary>
    private static async Task<IResult> Begin(
        HttpContext http,
        [FromForm] string? _,
        UserManager<Account> users,
        IUserStore<Account> store,
        CancellationToken ct
    )
    {
        if (await users.GetUserAsync(http.User) is { TwoFactor: false } account)
        {
            // Not by the manager's way, which ends every session: nothing about signing in has changed yet.
            await ((IUserAuthenticatorKeyStore<Account>)store).SetAuthenticatorKeyAsync(account, users.GenerateNewAuthenticatorKey(), ct);
            await users.UpdateAsync(account);
        }

        return Results.LocalRedirect("/me/second-factor?app=1");
    }

    private static async Task<IResult> Confirm(
        HttpContext http,
        [FromForm] string? code,
        UserManager<Account> users,
        SignInManager<Account> signIn,
        SignInSessions sessions,
        AccountPost post,
        FlashCodes flash,
        Guesses guesses,
        CancellationToken ct
    )
    {
        if (await users.GetUserAsync(http.User) is not { TwoFactor: false } account)
            return Results.LocalRedirect("/me/second-factor");
        if (!guesses.May(http, account.Id.ToString()) || !await users.VerifyTwoFactorTokenAsync(account, OneTimeCodes.Name, code ?? ""))
            return Results.LocalRedirect("/me/second-factor?app=1&failed=1");
        await users.SetTwoFactorEnabledAsync(account, true);
        var codes = (await users.GenerateNewTwoFactorRecoveryCodesAsync(account, Codes))!;
        post.Send(AccountLetter.SecondFactorChanged, account.Id, "set up");
        // The code that came back was the second factor.
        await sessions.EndOthers(account.Id, null, ct);
        await signIn.SignInWithClaimsAsync(account, isPersistent: true, [new Claim(SignInMethods.Claim, SignInMethods.SecondFactor)]);
        flash.Keep(http, account.Id, [.. codes], "/me/second-factor");
        return Results.LocalRedirect("/me/second-factor?done=codes");
    }

    private static async Task<IResult> Off(
        HttpContext http,
        [FromForm] string? _,
        UserManager<Account> users,
        SignInManager<Account> signIn,
        SignInSessions sessions,
        AccountPost post,
        CancellationToken ct
    )
    {
        if (await users.GetUserAsync(http.User) is not { TwoFactor: true } account)
            return Results.LocalRedirect("/me/second-factor");
        account.RecoveryCodes = [];
        account.AuthenticatorKey = null;
        await users.SetTwoFactorEnabledAsync(account, false);
        post.Send(AccountLetter.SecondFactorChanged, account.Id, AccountLetterWords.TurnedOff);
        await MyAccountApi.Changed(http, account, signIn, sessions, ct);
        return Results.LocalRedirect("/me/second-factor?done=off");
    }

    private static async Task<IResult> NewCodes(HttpContext http, [FromForm] string? _, UserManager<Account> users, FlashCodes flash)
    {
        if (await users.GetUserAsync(http.User) is not { TwoFactor: true } account)
            return Results.LocalRedirect("/me/second-factor");
        var codes = (await users.GenerateNewTwoFactorRecoveryCodesAsync(account, Codes))!;
        flash.Keep(http, account.Id, [.. codes], "/me/second-factor");
        return Results.LocalRedirect("/me/second-factor?done=codes");
    }

    private static async Task<IResult> PasskeyOptions(
        HttpContext http,
        [FromForm] string? name,
        UserManager<Account> users,
        SignInManager<Account> signIn
    )
    {
        _ = name;
        if (await users.GetUserAsync(http.User) is not { } account)
            return Results.NotFound();
        var entity = new PasskeyUserEntity
        {
            Id = account.Id.ToString(),
            Name = account.Email,
            DisplayName = account.Email,
        };
        return Results.Text(await signIn.MakePasskeyCreationOptionsAsync(entity), "application/json");
    }

    private static async Task<IResult> AddPasskey(
        HttpContext http,
        [FromForm] string? credential,
        [FromForm] string? name,
        UserManager<Account> users,
        SignInManager<Account> signIn,
        PasskeyChallenges challenges,
        SignInSessions sessions,
        AccountPost post,
        CancellationToken ct
    )
    {
        var failed = Results.LocalRedirect("/me/second-factor?failed=passkey");
        if (await users.GetUserAsync(http.User) is not { } account || account.Passkeys.Count >= MostPasskeys)
            return failed;
        if (string.IsNullOrEmpty(credential) || credential.Length > 50_000)
            return failed;
        PasskeyAttestationResult result;
        try
        {
            result = await signIn.PerformPasskeyAttestationAsync(credential);
        }
        catch (Exception e) when (e is InvalidOperationException or FormatException)
        {
            return failed;
        }

        // Made for this account, by a device that asked its owner.
        if (
            !result.Succeeded
            || result.UserEntity.Id != account.Id.ToString()
            || !result.Passkey.IsUserVerified
            || !challenges.Once(credential)
        )
            return failed;
        result.Passkey.Name = name?.Trim() is { Length: > 0 } given
            ? given[..Math.Min(given.Length, 60)]
            : Devices.NameOf(http.Request.Headers.UserAgent.ToString());
        if (!(await users.AddOrUpdatePasskeyAsync(account, result.Passkey)).Succeeded)
            return failed;
        post.Send(AccountLetter.PasskeyAdded, account.Id, result.Passkey.Name);
        await sessions.EndOthers(account.Id, null, ct);
        await signIn.SignInWithClaimsAsync(account, isPersistent: true, [new Claim(SignInMethods.Claim, SignInMethods.Passkey)]);
        return Results.LocalRedirect("/me/second-factor?done=passkey");
    }

    private static async Task<IResult> RemovePasskey(
        HttpContext http,
        [FromForm] string? id,
        UserManager<Account> users,
        SignInManager<Account> signIn,
        SignInSessions sessions,
        AccountPost post,
        CancellationToken ct
    )
    {
        if (await users.GetUserAsync(http.User) is not { } account || account.Passkeys.Find(p => p.Id == id) is not { } passkey)
            return Results.LocalRedirect("/me/second-factor");
        // The last way in is not closed from inside.
        if (account.PasswordHash is null && account.Passkeys.Count == 1)
            return Results.LocalRedirect("/me/second-factor?failed=last");
        await users.RemovePasskeyAsync(account, Base64Url.DecodeFromChars(passkey.Id));
        await users.UpdateSecurityStampAsync(account);
        post.Send(AccountLetter.PasskeyRemoved, account.Id, passkey.Name);
        await MyAccountApi.Changed(http, account, signIn, sessions, ct);
        return Results.LocalRedirect("/me/second-factor?done=removed");
    }
}
