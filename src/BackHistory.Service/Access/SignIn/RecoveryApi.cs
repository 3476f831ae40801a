using BackHistory.Service.Access.Letters;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access.SignIn;

/// <summary>A forgotten password: a letter with a link, a new password, and the old sessions end. The second factor is asked for as
/// before.</summary>
public static class RecoveryApi
{
    public static void MapRecovery(this WebApplication app)
    {
        // Open by nature: whoever has forgotten the password is not signed in. The antiforgery token of the form is checked.
        app.MapPost("/forgotten", Ask).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/new-password/{token}", Choose).AllowAnonymous().ExcludeFromDescription();
    }

    /// <summary>The answer and its time are the same whether there is such an account or not.</summary>
    private static async Task<IResult> Ask(
        HttpContext http,
        [FromForm] string? email,
        UserManager<Account> users,
        AccountPost post,
        Guesses guesses
    )
    {
        if (!guesses.May(http, email))
            return SignInApi.TooOften(http, "/forgotten", null);
        var account = email is { Length: > 0 and <= 254 } ? await users.FindByEmailAsync(email.Trim()) : null;
        post.Send(AccountLetter.NewPassword, account?.Id ?? Guid.NewGuid());
        return Results.LocalRedirect("/forgotten?sent=1");
    }

    private static async Task<IResult> Choose(
        HttpContext http,
        string token,
        [FromForm] string? password,
        UserManager<Account> users,
        AccountLinks links,
        AccountPost post,
        SignInSessions sessions,
        Guesses guesses,
        CancellationToken ct
    )
    {
        var page = $"/new-password/{Uri.EscapeDataString(token)}";
        if (!guesses.May(http, null))
            return SignInApi.TooOften(http, page, null);
        var link = links.Read(token, AccountLinkKind.NewPassword);
        var account = link is null ? null : await users.FindByIdAsync(link.Id.ToString());
        if (account is null || account.SecurityStamp != link!.Stamp)
            return Results.LocalRedirect(page);
        var result = await users.ResetPasswordAsync(account, await users.GeneratePasswordResetTokenAsync(account), password ?? "");
        if (!result.Succeeded)
            return Results.LocalRedirect($"{page}?refused={result.Errors.First().Code}");
        await users.SetLockoutEndDateAsync(account, null);
        await users.ResetAccessFailedCountAsync(account);
        await sessions.EndOthers(account.Id, null, ct);
        post.Send(AccountLetter.PasswordChanged, account.Id);
        return Results.LocalRedirect("/sign-in?changed=1");
    }
}
