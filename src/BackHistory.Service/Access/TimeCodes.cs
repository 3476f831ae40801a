using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using OtpNet;

namespace BackHistory.Service.Access;

/// <summary>One-time codes by the clock (RFC 6238, with HMAC-SHA-1, six digits and 30 seconds, as every authenticator app makes
/// them).</summary>
internal static class TimeCodes
{
    /// <summary>The step before counts too, for whoever types slowly.</summary>
    private static readonly VerificationWindow Slowly = new(previous: 1);

#pragma warning disable RS0030 // Instants, as codes count time (RFC 6238).
    /// <param name="secret">In base 32 (RFC 4648, section 6), as apps take it.</param>
    public static string At(string secret, DateTimeOffset now) => new Totp(Base32Encoding.ToBytes(secret)).ComputeTotp(now.UtcDateTime);

    /// <summary>The step whose code this is: the present one, or the one before.</summary>
    /// <returns>Null when it is neither's.</returns>
    public static long? StepOf(string secret, string code, DateTimeOffset now)
    {
        var plain = code.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        return new Totp(Base32Encoding.ToBytes(secret)).VerifyTotp(now.UtcDateTime, plain, out var step, Slowly) ? step : null;
    }
#pragma warning restore RS0030
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
        if (TimeCodes.StepOf(key, token, time.GetUtcNow()) is not { } step || step <= user.LastCodeStep)
            return false;
        user.LastCodeStep = step;
        // Saved at once: of two who use the same code at the same moment one comes too late.
        return await accounts.Save(user, CancellationToken.None);
    }
}
