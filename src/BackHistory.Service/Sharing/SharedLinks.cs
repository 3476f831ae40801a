using System.Buffers.Text;
using System.Security.Cryptography;
using BackHistory.Service.Access;
using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Sharing;

/// <summary>Links to one horse: sealed, so that nobody can make or alter one.</summary>
public sealed class SharedLinks(IDataProtectionProvider protection, Settings settings)
{
    private const int LongestToken = 1000;
    private readonly IDataProtector _seal = protection.CreateProtector("shared links");

    public string Url(string practice, Guid horseId, Guid linkId) =>
        $"{Addresses.Root(settings)}/look/{Token(new LinkName(practice, horseId, linkId))}";

    public string Token(LinkName name)
    {
        var bytes = new byte[32 + System.Text.Encoding.UTF8.GetByteCount(name.Practice)];
        name.HorseId.TryWriteBytes(bytes);
        name.LinkId.TryWriteBytes(bytes.AsSpan(16));
        System.Text.Encoding.UTF8.GetBytes(name.Practice, bytes.AsSpan(32));
        return Base64Url.EncodeToString(_seal.Protect(bytes));
    }

    /// <returns>Null when the link was altered or is not ours.</returns>
    public LinkName? Read(string token)
    {
        if (token.Length > LongestToken)
            return null;
        try
        {
            var bytes = _seal.Unprotect(Base64Url.DecodeFromChars(token));
            return bytes.Length <= 32
                ? null
                : new LinkName(
                    System.Text.Encoding.UTF8.GetString(bytes.AsSpan(32)),
                    new Guid(bytes.AsSpan(0, 16)),
                    new Guid(bytes.AsSpan(16, 16))
                );
        }
        catch (Exception e) when (e is CryptographicException or FormatException)
        {
            return null;
        }
    }
}
