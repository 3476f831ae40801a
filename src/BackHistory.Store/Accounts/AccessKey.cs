using System.Security.Cryptography;
using System.Text;

namespace BackHistory.Store.Accounts;

/// <summary>A key for a program: kept only as a hash, for one account in one practice, with an end.</summary>
/// <param name="Most">What a program with this key may do at most; its owner's own role bounds it too.</param>
/// <param name="Id">SHA-256 of the key, hexadecimal: 32 random bytes need no slow hash.</param>
public sealed record AccessKey(
    string Id,
    string Label,
    Guid AccountId,
    string Practice,
    DateTimeOffset MadeAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? LastUsed = null,
    PracticeRole Most = PracticeRole.Administrator
)
{
    /// <summary>No key lives longer.</summary>
    public const int MostDays = 365;

    public const string Prefix = "bhk_";

    /// <summary>A fresh key; it is shown once and cannot be read again.</summary>
    public static string Make() => Prefix + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));

    public static string HashOf(string key) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)));
}
