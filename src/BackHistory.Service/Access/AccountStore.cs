using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access;

/// <summary>
/// Accounts as documents beside the history. ASP.NET Core Identity's own managers do all the judging; this only keeps what they hand over.
/// </summary>
public sealed partial class AccountStore(AccountDocuments accounts, IDataProtectionProvider protection)
    : IUserPasswordStore<Account>,
        IUserEmailStore<Account>,
        IUserLockoutStore<Account>,
        IUserSecurityStampStore<Account>
{
    public async Task<IdentityResult> CreateAsync(Account user, CancellationToken cancellationToken) =>
        await accounts.Add(user, cancellationToken)
            ? IdentityResult.Success
            : IdentityResult.Failed(
                new IdentityError { Code = "DuplicateEmail", Description = "There is an account with this e-mail address already." }
            );

    public async Task<IdentityResult> UpdateAsync(Account user, CancellationToken cancellationToken) =>
        await accounts.Save(user, cancellationToken)
            ? IdentityResult.Success
            : IdentityResult.Failed(
                new IdentityError
                {
                    Code = "ConcurrencyFailure",
                    Description = "The account was changed elsewhere at the same moment. Try again.",
                }
            );

    public async Task<IdentityResult> DeleteAsync(Account user, CancellationToken cancellationToken)
    {
        await accounts.Remove(user, cancellationToken);
        return IdentityResult.Success;
    }

    public Task<Account?> FindByIdAsync(string userId, CancellationToken cancellationToken) =>
        Guid.TryParse(userId, out var id) ? accounts.Load(id, cancellationToken) : Task.FromResult<Account?>(null);

    public Task<Account?> FindByNameAsync(string normalizedUserName, CancellationToken cancellationToken) =>
        accounts.ByEmail(normalizedUserName, cancellationToken);

    public Task<Account?> FindByEmailAsync(string normalizedEmail, CancellationToken cancellationToken) =>
        accounts.ByEmail(normalizedEmail, cancellationToken);

    public Task<string> GetUserIdAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Id.ToString());

    public Task<string?> GetUserNameAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Email);

    public Task SetUserNameAsync(Account user, string? userName, CancellationToken cancellationToken) =>
        SetEmailAsync(user, userName, cancellationToken);

    public Task<string?> GetNormalizedUserNameAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult<string?>(user.NormalizedEmail);

    public Task SetNormalizedUserNameAsync(Account user, string? normalizedName, CancellationToken cancellationToken) =>
        SetNormalizedEmailAsync(user, normalizedName, cancellationToken);

    public Task<string?> GetEmailAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Email);

    public Task SetEmailAsync(Account user, string? email, CancellationToken cancellationToken) => Set(() => user.Email = email ?? "");

    public Task<string?> GetNormalizedEmailAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult<string?>(user.NormalizedEmail);

    public Task SetNormalizedEmailAsync(Account user, string? normalizedEmail, CancellationToken cancellationToken) =>
        Set(() => user.NormalizedEmail = normalizedEmail ?? "");

    public Task<bool> GetEmailConfirmedAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.EmailConfirmed);

    public Task SetEmailConfirmedAsync(Account user, bool confirmed, CancellationToken cancellationToken) =>
        Set(() => user.EmailConfirmed = confirmed);

    public Task<string?> GetPasswordHashAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.PasswordHash);

    public Task SetPasswordHashAsync(Account user, string? passwordHash, CancellationToken cancellationToken) =>
        Set(() => user.PasswordHash = passwordHash);

    public Task<bool> HasPasswordAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.PasswordHash is not null);

    public Task<string?> GetSecurityStampAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.SecurityStamp);

    public Task SetSecurityStampAsync(Account user, string stamp, CancellationToken cancellationToken) =>
        Set(() => user.SecurityStamp = stamp);

    public Task<DateTimeOffset?> GetLockoutEndDateAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult(user.LockedUntil);

    public Task SetLockoutEndDateAsync(Account user, DateTimeOffset? lockoutEnd, CancellationToken cancellationToken) =>
        Set(() => user.LockedUntil = lockoutEnd);

    public Task<int> IncrementAccessFailedCountAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult(++user.FailedSignIns);

    public Task ResetAccessFailedCountAsync(Account user, CancellationToken cancellationToken) => Set(() => user.FailedSignIns = 0);

    public Task<int> GetAccessFailedCountAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.FailedSignIns);

    public Task<bool> GetLockoutEnabledAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.MayBeLocked);

    public Task SetLockoutEnabledAsync(Account user, bool enabled, CancellationToken cancellationToken) =>
        Set(() => user.MayBeLocked = enabled);

    public void Dispose()
    {
        // Nothing is held.
    }

    private static Task Set(Action change)
    {
        change();
        return Task.CompletedTask;
    }
}
