using System.Security.Claims;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace BackHistory.Service.Access;

/// <summary>Adds the practice in which the person is working to the cookie's identity.</summary>
public sealed class PracticeClaimsFactory(UserManager<Account> users, IOptions<IdentityOptions> options)
    : UserClaimsPrincipalFactory<Account>(users, options)
{
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(Account user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        // Whoever was taken out of the practice they work in does not slip into another in the middle of a form: they choose.
        var membership = user.Working is null ? user.Memberships.FirstOrDefault() : user.Memberships.Find(m => m.Practice == user.Working);
        if (membership is null)
            return identity;
        identity.AddClaim(new Claim(PracticeClaims.Practice, membership.Practice));
        identity.AddClaim(new Claim(PracticeClaims.Person, membership.PersonId.ToString()));
        identity.AddClaim(new Claim(PracticeClaims.Role, membership.Role.ToString()));
        return identity;
    }
}
