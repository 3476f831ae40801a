using BackHistory.History.Practices;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Access.SignIn;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.Me;

/// <summary>One's own account: password, address, practice, sessions.</summary>
public static class MyAccountApi
{
    public static void MapMyAccount(this WebApplication app)
    {
        app.MapPost("/me/password", Password).RequireAuthorization(Policies.Myself).ExcludeFromDescription();
        app.MapPost("/me/address", Address).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
        // Open by nature: the letter is opened wherever it is read; the sealed link is what confirms.
        app.MapPost("/confirm-address/{token}", ConfirmAddress).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/me/practice", Practice).RequireAuthorization(Policies.Myself).ExcludeFromDescription();
        app.MapPost("/me/sessions/end", EndSession).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
        app.MapPost("/me/sessions/end-others", EndOthers).RequireAuthorization(Policies.Fresh).ExcludeFromDescription();
    }

    private static async Task<IResult> Password(
        HttpContext http,
        [FromForm] string? current,
        [FromForm] string? password,
        UserManager<Account> users,
        SignInManager<Account> signIn,
        AccountPost post,
        SignInSessions sessions,
        Guesses guesses,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var account = await users.GetUserAsync(http.User);
        if (account is null || !guesses.May(http, account.Id.ToString()))
            return SignInApi.TooOften(http, "/me", null);
        // A first password is a new way in: it is set by whoever proved just now who they are, with the passkey where there is one. The old
        // one is asked for below.
        if (account.PasswordHash is null && (!Freshness.Has(http.User, time) || Freshness.IsHalf(http.User)))
            return Results.LocalRedirect("/sign-in/again?returnUrl=/me");
        // The rest after six failures holds here too: who sits down at an open browser guesses no further than at the door.
        if (
            account.PasswordHash is not null
            && !(await signIn.CheckPasswordSignInAsync(account, current ?? "", lockoutOnFailure: true)).Succeeded
        )
            return Results.LocalRedirect("/me?refused=PasswordMismatch");
        var result = account.PasswordHash is null
            ? await users.AddPasswordAsync(account, password ?? "")
            : await users.ChangePasswordAsync(account, current!, password ?? "");
        if (!result.Succeeded)
            return Results.LocalRedirect($"/me?refused={result.Errors.First().Code}");
        post.Send(AccountLetter.PasswordChanged, account.Id);
        await Changed(http, account, signIn, sessions, ct);
        return Results.LocalRedirect("/me?done=password");
    }

    private static async Task<IResult> Address(
        HttpContext http,
        [FromForm] string? email,
        UserManager<Account> users,
        AccountPost post,
        Guesses guesses
    )
    {
        var account = await users.GetUserAsync(http.User);
        if (account is null || !guesses.May(http, account.Id.ToString()))
            return SignInApi.TooOften(http, "/me", null);
        if (!EmailAddress.TryParse(email, out var address))
            return Results.LocalRedirect("/me?refused=address");
        post.Send(AccountLetter.ConfirmAddress, account.Id, to: address.Value);
        // Whether somebody else signs in with it is not told: the letter says what it says.
        return Results.LocalRedirect("/me?done=address");
    }

    private static async Task<IResult> ConfirmAddress(
        HttpContext http,
        string token,
        [FromForm] string? _,
        UserManager<Account> users,
        AccountLinks links,
        AccountPost post,
        SignInSessions sessions,
        CancellationToken ct
    )
    {
        var link = links.Read(token, AccountLinkKind.ConfirmAddress);
        var account = link?.Email is null ? null : await users.FindByIdAsync(link.Id.ToString());
        if (account is null || account.SecurityStamp != link!.Stamp)
            return Results.LocalRedirect($"/confirm-address/{Uri.EscapeDataString(token)}");
        var old = account.Email;
        var result = await users.SetEmailAsync(account, link.Email);
        if (!result.Succeeded)
            return Results.LocalRedirect($"/confirm-address/{Uri.EscapeDataString(token)}");
        account.EmailConfirmed = true;
        await users.UpdateAsync(account);
        await sessions.EndOthers(
            account.Id,
            SessionEvents.AccountOf(http.User) == account.Id ? SessionEvents.SessionOf(http.User) : null,
            ct
        );
        post.Send(AccountLetter.AddressChanged, account.Id, to: old);
        return Results.LocalRedirect("/sign-in?changed=1");
    }

    /// <summary>Works in another of one's practices from now on.</summary>
    private static async Task<IResult> Practice(HttpContext http, [FromForm] string? id, AccountDocuments accounts, CancellationToken ct)
    {
        await accounts.Change(
            SessionEvents.AccountOf(http.User)!.Value,
            a => a.Working = a.Memberships.Exists(m => m.Practice == id) ? id : a.Working,
            ct
        );
        return Results.LocalRedirect("/");
    }

    private static async Task<IResult> EndSession(HttpContext http, [FromForm] string? id, SignInSessions sessions, CancellationToken ct)
    {
        if (id is { Length: 64 })
            await sessions.End(SessionEvents.AccountOf(http.User)!.Value, id, ct);
        return Results.LocalRedirect("/me/sessions?done=1");
    }

    private static async Task<IResult> EndOthers(HttpContext http, [FromForm] string? _, SignInSessions sessions, CancellationToken ct)
    {
        await sessions.EndOthers(SessionEvents.AccountOf(http.User)!.Value, SessionEvents.SessionOf(http.User), ct);
        return Results.LocalRedirect("/me/sessions?done=1");
    }

    /// <summary>A way to sign in has changed: every other session ends, and this one goes on under a new secret.</summary>
    internal static async Task Changed(
        HttpContext http,
        Account account,
        SignInManager<Account> signIn,
        SignInSessions sessions,
        CancellationToken ct
    )
    {
        var method = http.User.FindFirst(SignInMethods.Claim)?.Value ?? SignInMethods.Password;
        await sessions.EndOthers(account.Id, null, ct);
        await signIn.SignInWithClaimsAsync(account, isPersistent: true, [new System.Security.Claims.Claim(SignInMethods.Claim, method)]);
    }
}
