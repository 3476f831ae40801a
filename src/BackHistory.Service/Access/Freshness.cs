using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;

namespace BackHistory.Service.Access;

/// <summary>Whoever changes how an account is signed in to has proved who they are just now, not a fortnight ago.</summary>
internal static class Freshness
{
    private static readonly TimeSpan Lasts = TimeSpan.FromMinutes(10);

    public static bool Has(ClaimsPrincipal user, TimeProvider time) =>
        long.TryParse(user.FindFirstValue(PracticeClaims.ConfirmedAt), NumberStyles.None, CultureInfo.InvariantCulture, out var at)
        && time.GetUtcNow() - DateTimeOffset.FromUnixTimeSeconds(at) < Lasts;

    /// <summary>Whether the account has a passkey that this session was not signed in with, and no codes.</summary>
    public static bool IsHalf(ClaimsPrincipal user) => user.HasClaim(c => c.Type == PracticeClaims.HalfProved);

    public static bool IsDemanded(HttpContext http) =>
        http.GetEndpoint()?.Metadata.GetOrderedMetadata<IAuthorizeData>().Any(a => a.Policy == Policies.Fresh) == true;
}

internal sealed class FreshRequirement : IAuthorizationRequirement;

internal sealed class FreshHandler(TimeProvider time) : AuthorizationHandler<FreshRequirement>
{
    protected override Task HandleRequirementAsync(AuthorizationHandlerContext context, FreshRequirement requirement)
    {
        if (Freshness.Has(context.User, time) && !Freshness.IsHalf(context.User))
            context.Succeed(requirement);
        return Task.CompletedTask;
    }
}
