using System.Buffers.Text;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access;

/// <summary>Passkeys and sign-in services of an account.</summary>
public sealed partial class AccountStore : IUserPasskeyStore<Account>, IUserLoginStore<Account>
{
    public Task AddOrUpdatePasskeyAsync(Account user, UserPasskeyInfo passkey, CancellationToken cancellationToken)
    {
        var id = Base64Url.EncodeToString(passkey.CredentialId);
        var at = user.Passkeys.FindIndex(p => p.Id == id);
        var kept = new Passkey(
            id,
            Convert.ToBase64String(passkey.PublicKey),
            passkey.Name ?? (at < 0 ? "Passkey" : user.Passkeys[at].Name),
            passkey.CreatedAt,
            passkey.SignCount,
            passkey.Transports,
            passkey.IsUserVerified,
            passkey.IsBackupEligible,
            passkey.IsBackedUp,
            Convert.ToBase64String(passkey.AttestationObject),
            Convert.ToBase64String(passkey.ClientDataJson)
        );
        return Set(() => user.Passkeys = at < 0 ? user.Passkeys.Add(kept) : user.Passkeys.SetItem(at, kept));
    }

    public Task<IList<UserPasskeyInfo>> GetPasskeysAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult<IList<UserPasskeyInfo>>([.. user.Passkeys.Select(InfoOf)]);

    public Task<Account?> FindByPasskeyIdAsync(byte[] credentialId, CancellationToken cancellationToken) =>
        accounts.ByPasskey(Base64Url.EncodeToString(credentialId), cancellationToken);

    public Task<UserPasskeyInfo?> FindPasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken)
    {
        var id = Base64Url.EncodeToString(credentialId);
        return Task.FromResult(user.Passkeys.Find(p => p.Id == id) is { } found ? InfoOf(found) : null);
    }

    public Task RemovePasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken)
    {
        var id = Base64Url.EncodeToString(credentialId);
        return Set(() => user.Passkeys = user.Passkeys.RemoveAll(p => p.Id == id));
    }

    public Task AddLoginAsync(Account user, UserLoginInfo login, CancellationToken cancellationToken) =>
        Set(() => user.Logins = user.Logins.Add(new ExternalLogin(login.LoginProvider, login.ProviderKey, login.ProviderDisplayName)));

    public Task RemoveLoginAsync(Account user, string loginProvider, string providerKey, CancellationToken cancellationToken) =>
        Set(() => user.Logins = user.Logins.RemoveAll(l => l.Provider == loginProvider && l.Key == providerKey));

    public Task<IList<UserLoginInfo>> GetLoginsAsync(Account user, CancellationToken cancellationToken) =>
        Task.FromResult<IList<UserLoginInfo>>([.. user.Logins.Select(l => new UserLoginInfo(l.Provider, l.Key, l.Name))]);

    public Task<Account?> FindByLoginAsync(string loginProvider, string providerKey, CancellationToken cancellationToken) =>
        accounts.ByLogin(loginProvider, providerKey, cancellationToken);

    private static UserPasskeyInfo InfoOf(Passkey p) =>
        new(
            Base64Url.DecodeFromChars(p.Id),
            Convert.FromBase64String(p.PublicKey),
            p.CreatedAt,
            (uint)p.SignCount,
            p.Transports is null ? null : [.. p.Transports],
            p.UserVerified,
            p.BackupEligible,
            p.BackedUp,
            Convert.FromBase64String(p.Attestation),
            Convert.FromBase64String(p.ClientData)
        )
        {
            Name = p.Name,
        };
}
