using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using BackHistory.Service.Configuration;

namespace BackHistory.Service.Access;

/// <summary>
/// How often somebody may try: as one person who is signed in, else from one address, and at one account whether it exists or not. The
/// account's own rest after six failures comes on top; this stops the many accounts that one address tries, and answers the same for
/// accounts that are not there.
/// </summary>
public sealed class Guesses(Settings settings) : IDisposable
{
    private readonly PartitionedRateLimiter<string> _addresses = Limiter(settings.Access.Limits.Guesses, TimeSpan.FromMinutes(1));
    private readonly PartitionedRateLimiter<string> _subjects = Limiter(settings.Access.Limits.Guesses, TimeSpan.FromMinutes(15));

    /// <param name="subject">What is being guessed at: an address, an account's id; null where it is not known.</param>
    public bool May(HttpContext http, string? subject)
    {
        // Many work behind one address: whoever is signed in has a measure of their own.
        var from = SessionEvents.AccountOf(http.User) is { } person ? $"person {person}" : AddressOf(http);
        using var address = _addresses.AttemptAcquire(from);
        if (!address.IsAcquired)
            return false;
        if (string.IsNullOrWhiteSpace(subject))
            return true;
        using var account = _subjects.AttemptAcquire(subject.Trim().ToUpperInvariant());
        return account.IsAcquired;
    }

    public void Dispose()
    {
        _addresses.Dispose();
        _subjects.Dispose();
    }

    /// <summary>One household of IPv6 has a whole /64.</summary>
    public static string AddressOf(HttpContext http)
    {
        var address = http.Connection.RemoteIpAddress ?? IPAddress.None;
        if (address.IsIPv4MappedToIPv6)
            address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6
            ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8))
            : address.ToString();
    }

    private static PartitionedRateLimiter<string> Limiter(int permits, TimeSpan window) =>
        PartitionedRateLimiter.Create<string, string>(key =>
            RateLimitPartition.GetSlidingWindowLimiter(
                key,
                _ => new SlidingWindowRateLimiterOptions
                {
                    PermitLimit = permits,
                    Window = window,
                    SegmentsPerWindow = 5,
                    QueueLimit = 0,
                }
            )
        );
}
