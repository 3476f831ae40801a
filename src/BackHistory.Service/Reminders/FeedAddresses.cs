using System.Security.Cryptography;
using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Reminders;

/// <summary>Addresses of calendars: sealed, so that nobody can guess one; kept by id, so that each can be revoked.</summary>
public sealed class FeedAddresses(IDataProtectionProvider protection, Settings settings)
{
    private readonly IDataProtector _seal = protection.CreateProtector("calendars");

    public string Of(string practice, Guid feedId) => $"{settings.Root}/calendar/{_seal.Protect($"{feedId:N}{practice}")}";

    /// <returns>Null when it is not ours.</returns>
    public (string Practice, Guid FeedId)? Read(string token)
    {
        try
        {
            var text = _seal.Unprotect(token);
            return (text[32..], Guid.ParseExact(text[..32], "N"));
        }
        catch (Exception e) when (e is CryptographicException or FormatException or ArgumentOutOfRangeException)
        {
            return null;
        }
    }
}
