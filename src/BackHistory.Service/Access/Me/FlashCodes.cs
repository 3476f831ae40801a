using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.DataProtection;

namespace BackHistory.Service.Access.Me;

/// <summary>Secrets that are shown once, carried sealed from the answer that made them to the page that shows them: they are kept
/// nowhere.</summary>
public sealed class FlashCodes(IDataProtectionProvider protection)
{
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(2);
    private readonly ITimeLimitedDataProtector _seal = protection.CreateProtector("shown once").ToTimeLimitedDataProtector();

    public string Keep(Guid accountId, IReadOnlyList<string> secrets) =>
        Uri.EscapeDataString(_seal.Protect(JsonSerializer.Serialize(new Kept(accountId, secrets)), Life));

    /// <returns>Nothing where they are another's, were altered or have been shown long enough.</returns>
    public IReadOnlyList<string> Open(Guid accountId, string? token)
    {
        if (string.IsNullOrEmpty(token))
            return [];
        try
        {
            return JsonSerializer.Deserialize<Kept>(_seal.Unprotect(token)) is { } kept && kept.AccountId == accountId ? kept.Secrets : [];
        }
        catch (Exception e) when (e is CryptographicException or JsonException or FormatException)
        {
            return [];
        }
    }

    private sealed record Kept(Guid AccountId, IReadOnlyList<string> Secrets);
}
