using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access;

/// <summary>One-time codes by the clock (RFC 6238, with HMAC-SHA-1 and 30 seconds, as every authenticator app makes them).</summary>
internal static class TimeCodes
{
    private const int Seconds = 30;

    public static long StepAt(DateTimeOffset now) => now.ToUnixTimeSeconds() / Seconds;

    /// <summary>The code of one step: RFC 4226, section 5.3, over the step as counter.</summary>
    public static int Of(ReadOnlySpan<byte> secret, long step, int digits = 6)
    {
        Span<byte> counter = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);
        Span<byte> hash = stackalloc byte[20];
        HMACSHA1.HashData(secret, counter, hash);
        var offset = hash[^1] & 0x0F;
        var truncated = BinaryPrimitives.ReadInt32BigEndian(hash[offset..]) & 0x7FFF_FFFF;
        return truncated % (int)Math.Pow(10, digits);
    }

    /// <summary>The step whose code this is: the present one, or the one before for whoever types slowly.</summary>
    /// <returns>Null when it is neither's.</returns>
    public static long? StepOf(ReadOnlySpan<byte> secret, string code, DateTimeOffset now)
    {
        var plain = code.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        if (plain.Length != 6 || !int.TryParse(plain, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            return null;
        var step = StepAt(now);
        return Of(secret, step) == number ? step
            : Of(secret, step - 1) == number ? step - 1
            : null;
    }
}

/// <summary>Checks codes of an authenticator app, each once.</summary>
internal sealed class OneTimeCodes(AccountDocuments accounts, TimeProvider time) : IUserTwoFactorTokenProvider<Account>
{
    public const string Name = "OneTimeCodes";

    public Task<bool> CanGenerateTwoFactorTokenAsync(UserManager<Account> manager, Account user) =>
        Task.FromResult(user.AuthenticatorKey is not null);

    /// <summary>The app makes the codes.</summary>
    public Task<string> GenerateAsync(string purpose, UserManager<Account> manager, Account user) => Task.FromResult("");

    public async Task<bool> ValidateAsync(string purpose, string token, UserManager<Account> manager, Account user)
    {
        if (await manager.GetAuthenticatorKeyAsync(user) is not { Length: > 0 } key)
            return false;
        if (TimeCodes.StepOf(Base32.Decode(key), token, time.GetUtcNow()) is not { } step || step <= user.LastCodeStep)
            return false;
        user.LastCodeStep = step;
        // Saved at once: of two who use the same code at the same moment one comes too late.
        return await accounts.Save(user, CancellationToken.None);
    }
}
