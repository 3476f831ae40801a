using System.Buffers.Text;
using System.Text.Json;
using Microsoft.Extensions.Caching.Memory;

namespace BackHistory.Service.Access;

/// <summary>
/// A challenge is answered once. It travels sealed in a cookie and not every passkey counts its uses, so whoever got hold of both could
/// send the same answer again for as long as the cookie holds. Kept in memory for that long: a service that starts anew forgets what was
/// answered in its last minutes.
/// </summary>
public sealed class PasskeyChallenges : IDisposable
{
    private const int Most = 100_000;

    /// <summary>Longer than the cookie that carries a challenge.</summary>
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(15);
    private readonly MemoryCache _answered = new(new MemoryCacheOptions { SizeLimit = Most });
    private readonly Lock _gate = new();

    public void Dispose() => _answered.Dispose();

    /// <param name="credential">An answer that has been proved already.</param>
    /// <returns>False where the same challenge was answered before.</returns>
    public bool Once(string credential)
    {
        if (ChallengeOf(credential) is not { } challenge)
            return false;
        lock (_gate)
        {
            if (_answered.TryGetValue(challenge, out _))
                return false;
            _answered.Set(challenge, true, new MemoryCacheEntryOptions { AbsoluteExpirationRelativeToNow = Life, Size = 1 });
            return true;
        }
    }

    private static string? ChallengeOf(string credential)
    {
        try
        {
            using var answer = JsonDocument.Parse(credential);
            using var client = JsonDocument.Parse(
                Base64Url.DecodeFromChars(answer.RootElement.GetProperty("response").GetProperty("clientDataJSON").GetString())
            );
            return client.RootElement.GetProperty("challenge").GetString();
        }
        catch (Exception e) when (e is JsonException or FormatException or KeyNotFoundException or InvalidOperationException)
        {
            return null;
        }
    }
}
