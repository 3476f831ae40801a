using System.Security.Cryptography;
using System.Text.Json;
using BackHistory.Service.Configuration;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Access.Letters;

/// <summary>Links in letters about accounts: sealed, with an end, for one thing only, once.</summary>
public sealed class AccountLinks(IDataProtectionProvider protection, Settings settings, TimeProvider time)
{
    public static readonly TimeSpan ShortLife = TimeSpan.FromHours(1);
    private readonly ITimeLimitedDataProtector _seal = protection.CreateProtector("account links").ToTimeLimitedDataProtector();

    public string NewPassword(Account account) =>
        Url("new-password", new AccountLink(AccountLinkKind.NewPassword, account.Id, account.SecurityStamp, null), ShortLife);

    public string ConfirmAddress(Account account, string email) =>
        Url("confirm-address", new AccountLink(AccountLinkKind.ConfirmAddress, account.Id, account.SecurityStamp, email), ShortLife);

    /// <summary>The page on which an invitation is accepted.</summary>
    public static string Welcome(string token) => $"/welcome/{token}";

    public string Accept(Invitation invitation) =>
        Url("welcome", new AccountLink(AccountLinkKind.Accept, invitation.Id, null, null), invitation.EndsAt - time.GetUtcNow());

    /// <returns>Null when the link was altered, is not ours, is for something else or has ended: all four look the same.</returns>
    public AccountLink? Read(string token, AccountLinkKind kind)
    {
        try
        {
            return JsonSerializer.Deserialize<AccountLink>(_seal.Unprotect(token)) is { } link && link.Kind == kind ? link : null;
        }
        catch (Exception e) when (e is CryptographicException or JsonException or FormatException)
        {
            return null;
        }
    }

    private string Url(string page, AccountLink link, TimeSpan life) =>
        $"{Addresses.Root(settings)}/{page}/{_seal.Protect(JsonSerializer.Serialize(link), life)}";
}
