using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace BackHistory.Service.Access.SignIn;

/// <summary>
/// Signing in by the framework's manager, but for one thing: the rest after six wrong passwords is the password's. Anybody can type wrong
/// passwords at anybody's account; whoever comes with a passkey or from a sign-in service is not locked out by that.
/// </summary>
internal sealed class AccountSignIn(
    UserManager<Account> users,
    IHttpContextAccessor http,
    IUserClaimsPrincipalFactory<Account> principals,
    IOptions<IdentityOptions> options,
    ILogger<SignInManager<Account>> log,
    IAuthenticationSchemeProvider schemes,
    IUserConfirmation<Account> confirmation
) : SignInManager<Account>(users, http, principals, options, log, schemes, confirmation)
{
    public override async Task<Microsoft.AspNetCore.Identity.SignInResult> CheckPasswordSignInAsync(
        Account user,
        string password,
        bool lockoutOnFailure
    ) =>
        await UserManager.IsLockedOutAsync(user)
            ? Microsoft.AspNetCore.Identity.SignInResult.LockedOut
            : await base.CheckPasswordSignInAsync(user, password, lockoutOnFailure);

    protected override Task<bool> IsLockedOut(Account user) => Task.FromResult(false);
}
