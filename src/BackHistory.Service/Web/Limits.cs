using System.Security.Claims;
using System.Threading.RateLimiting;
using BackHistory.Service.Access;
using BackHistory.Service.Configuration;

namespace BackHistory.Service.Web;

/// <summary>How much one person, one program or one address may ask for. Signing in and other guesses have their own, closer limit
/// (<see cref="Guesses"/>).</summary>
public static class Limits
{
    private const int Segments = 6;
    private const string Sentence = "Too many requests from here within a minute. Nothing was saved; wait a moment, then go on.";

    public static IServiceCollection AddLimits(this IServiceCollection services, Settings settings) =>
        services.AddRateLimiter(o =>
        {
            o.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(http =>
            {
                // Whoever watches the service asks often, and is told nothing of anybody's.
                if (http.Request.Path.StartsWithSegments("/health", StringComparison.Ordinal))
                    return RateLimitPartition.GetNoLimiter("health");
                return http.User.FindFirstValue(ClaimTypes.NameIdentifier) is { } account
                    ? Window($"person {account}", settings.Access.Limits.PersonPerMinute)
                    : Window($"address {Guesses.AddressOf(http)}", settings.Access.Limits.AddressPerMinute);
            });
            o.OnRejected = async (rejected, ct) =>
            {
                var response = rejected.HttpContext.Response;
                response.StatusCode = StatusCodes.Status429TooManyRequests;
                response.Headers.RetryAfter = "10";
                if (rejected.HttpContext.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
                    await Results
                        .Problem(statusCode: StatusCodes.Status429TooManyRequests, detail: Sentence)
                        .ExecuteAsync(rejected.HttpContext);
                else
                    await response.WriteAsync(Sentence, ct);
            };
        });

    private static RateLimitPartition<string> Window(string who, int perMinute) =>
        RateLimitPartition.GetSlidingWindowLimiter(
            who,
            _ => new SlidingWindowRateLimiterOptions
            {
                PermitLimit = perMinute,
                Window = TimeSpan.FromMinutes(1),
                SegmentsPerWindow = Segments,
                QueueLimit = 0,
            }
        );
}
