using System.Security.Claims;
using BackHistory.Service.Configuration;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Authorization;

namespace BackHistory.Service.Access;

/// <summary>
/// The jobs of all practices lie in one list. An administrator sees it where theirs is the only practice here; where there are several,
/// whoever the installation names as its operators does.
/// </summary>
internal sealed class OperateRequirement : IAuthorizationRequirement;

internal sealed class OperateHandler(KnownPractices known, Settings settings) : AuthorizationHandler<OperateRequirement>
{
    protected override async Task HandleRequirementAsync(AuthorizationHandlerContext context, OperateRequirement requirement)
    {
        if (SignedIn.TryFrom(context.User) is not { Role: PracticeRole.Administrator } who)
            return;
        var named =
            context.User.FindFirstValue(ClaimTypes.Name) is { } email
            && settings.Access.Operators.Contains(email, StringComparer.OrdinalIgnoreCase);
        if (named || await known.All(CancellationToken.None) is [var only] && only.Id == who.Practice)
            context.Succeed(requirement);
    }
}
