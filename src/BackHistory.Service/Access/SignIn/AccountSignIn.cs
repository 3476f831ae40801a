using System.Security.Claims;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace BackHistory.Service.Access.SignIn;

/// <summary>
/// Signing in by the framework's manager, but for one thing: the rest after six wrong passwords is the password's. Anybody can type wrong
/// passwords at anybody's account; whoever comes with a passkey or from a sign-in service is not locked out by that. Nor do wrong codes
/// count as wrong passwords: they rest by themselves (<see cref="CodeGuesses"/>).
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

    public override async Task<Microsoft.AspNetCore.Identity.SignInResult> TwoFactorAuthenticatorSignInAsync(
        string code,
        bool isPersistent,
        bool rememberClient
    )
    {
        var half = await Context.AuthenticateAsync(IdentityConstants.TwoFactorUserIdScheme);
        var account = await GetTwoFactorAuthenticationUserAsync();
        if (account is null || !await UserManager.VerifyTwoFactorTokenAsync(account, OneTimeCodes.Name, code))
            return Microsoft.AspNetCore.Identity.SignInResult.Failed;
        await ResetLockout(account);
        var claims = new List<Claim> { new(SignInMethods.Claim, SignInMethods.SecondFactor) };
        if (half.Principal?.FindFirstValue(ClaimTypes.AuthenticationMethod) is { } service)
        {
            claims.Add(new Claim(ClaimTypes.AuthenticationMethod, service));
            await Context.SignOutAsync(IdentityConstants.ExternalScheme);
        }

        await Context.SignOutAsync(IdentityConstants.TwoFactorUserIdScheme);
        if (rememberClient)
            await RememberTwoFactorClientAsync(account);
        await SignInWithClaimsAsync(account, isPersistent, claims);
        return Microsoft.AspNetCore.Identity.SignInResult.Success;
    }

    protected override Task<bool> IsLockedOut(Account user) => Task.FromResult(false);
}
