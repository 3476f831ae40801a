using BackHistory.History.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace BackHistory.Service.Access;

/// <summary>Signing in and out; the form itself is a page.</summary>
public static class SignInApi
{
    public static void MapSignIn(this WebApplication app)
    {
        // Open by nature: whoever signs in is not signed in yet. The antiforgery token of the form is checked.
        app.MapPost("/sign-in", SignIn).AllowAnonymous().ExcludeFromDescription();
        app.MapPost("/sign-out", SignOut).RequireAuthorization(Policies.See).ExcludeFromDescription();
    }

    private static async Task<IResult> SignIn(
        [FromForm] string? email, [FromForm] string? password, [FromForm] string? returnUrl, SignInManager<Account> signIn, UserManager<Account> users)
    {
        var account = email is null ? null : await users.FindByEmailAsync(email.Trim());
        // A wrong address takes the way of a wrong password: the answer and its time tell nothing about who has an account.
        var result = account is null ? await Nobody(users, password) : await signIn.PasswordSignInAsync(account, password ?? "", isPersistent: true, lockoutOnFailure: true);
        if (!result.Succeeded) return Results.Redirect($"/sign-in?failed=1{(Local(returnUrl) is { } back ? "&returnUrl=" + Uri.EscapeDataString(back) : "")}");
        return Results.LocalRedirect(Local(returnUrl) ?? "/");
    }

    private static async Task<IResult> SignOut(SignInManager<Account> signIn, [FromForm] string? _)
    {
        await signIn.SignOutAsync();
        return Results.LocalRedirect("/sign-in");
    }

    private static Task<Microsoft.AspNetCore.Identity.SignInResult> Nobody(UserManager<Account> users, string? password)
    {
        users.PasswordHasher.HashPassword(new Account(), password ?? "");
        return Task.FromResult(Microsoft.AspNetCore.Identity.SignInResult.Failed);
    }

    private static string? Local(string? url) =>
        url is { Length: > 0 } && url[0] == '/' && !url.StartsWith("//", StringComparison.Ordinal) && !url.StartsWith("/\\", StringComparison.Ordinal) ? url : null;
}
