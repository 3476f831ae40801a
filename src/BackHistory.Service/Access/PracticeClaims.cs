using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using BackHistory.History.Accounts;

namespace BackHistory.Service.Access;

/// <summary>What a signed-in identity says of its practice. The tenant is read from here and from nowhere else.</summary>
public static class PracticeClaims
{
    public const string Practice = "practice";
    public const string Person = "person";
    public const string Role = "practice-role";

    public static IEnumerable<Claim> Of(Account account, Membership membership) =>
    [
        new(ClaimTypes.NameIdentifier, account.Id.ToString()),
        new(ClaimTypes.Name, account.Email),
        new(Practice, membership.Practice),
        new(Person, membership.PersonId.ToString()),
        new(Role, membership.Role.ToString()),
    ];
}

/// <summary>Adds the practice in which the person is working to the cookie's identity.</summary>
public sealed class PracticeClaimsFactory(UserManager<Account> users, IOptions<IdentityOptions> options) : UserClaimsPrincipalFactory<Account>(users, options)
{
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(Account user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        var membership = user.Memberships.FirstOrDefault(m => m.Practice == user.Working) ?? user.Memberships.FirstOrDefault();
        if (membership is null) return identity;
        identity.AddClaim(new Claim(PracticeClaims.Practice, membership.Practice));
        identity.AddClaim(new Claim(PracticeClaims.Person, membership.PersonId.ToString()));
        identity.AddClaim(new Claim(PracticeClaims.Role, membership.Role.ToString()));
        return identity;
    }
}
