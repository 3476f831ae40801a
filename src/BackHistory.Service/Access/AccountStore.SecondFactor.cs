using System.Security.Cryptography;
using System.Text;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access;

/// <summary>The authenticator app's secret lies sealed; recovery codes lie hashed like passwords.</summary>
public sealed partial class AccountStore
    : IUserTwoFactorStore<Account>,
        IUserAuthenticatorKeyStore<Account>,
        IUserTwoFactorRecoveryCodeStore<Account>
{
    private const int Rounds = 210_000;
    private readonly IDataProtector _seal = protection.CreateProtector("authenticator");

    public Task SetTwoFactorEnabledAsync(Account user, bool enabled, CancellationToken cancellationToken) =>
        Set(() => user.TwoFactor = enabled);

    public Task<bool> GetTwoFactorEnabledAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.TwoFactor);

    public Task SetAuthenticatorKeyAsync(Account user, string key, CancellationToken cancellationToken) =>
        Set(() => user.AuthenticatorKey = _seal.Protect(key));

    public Task<string?> GetAuthenticatorKeyAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult(user.AuthenticatorKey is { } key ? _seal.Unprotect(key) : null);

    public Task ReplaceCodesAsync(Account user, IEnumerable<string> recoveryCodes, CancellationToken cancellationToken)
    {
        user.RecoverySalt = Convert.ToBase64String(RandomNumberGenerator.GetBytes(16));
        user.RecoveryCodes = [.. recoveryCodes.Select(c => Hash(user, c))];
        return Task.CompletedTask;
    }

    public async Task<bool> RedeemCodeAsync(Account user, string code, CancellationToken cancellationToken)
    {
        if (user.RecoverySalt is null)
            return false;
        var hash = Hash(user, code);
        if (!user.RecoveryCodes.Contains(hash, StringComparer.Ordinal))
            return false;
        user.RecoveryCodes = user.RecoveryCodes.Remove(hash, StringComparer.Ordinal);
        // Saved at once: of two who use the same code at the same moment one comes too late.
        return await accounts.Save(user, cancellationToken);
    }

    public Task<int> CountCodesAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.RecoveryCodes.Count);

    private static string Hash(Account user, string code) =>
        Convert.ToBase64String(
            Rfc2898DeriveBytes.Pbkdf2(
                Encoding.UTF8.GetBytes(code.Trim().ToUpperInvariant()),
                Convert.FromBase64String(user.RecoverySalt!),
                Rounds,
                HashAlgorithmName.SHA512,
                32
            )
        );
}
