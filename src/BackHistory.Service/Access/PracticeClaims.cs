using System.Security.Claims;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Access;

/// <summary>What a signed-in identity says of its practice. The tenant is read from here and from nowhere else.</summary>
public static class PracticeClaims
{
    public const string Practice = "practice";
    public const string Person = "person";
    public const string Role = "practice-role";

    /// <summary>The secret of this browser's session.</summary>
    public const string Session = "session";

    /// <summary>When the person last proved who they are, in Unix seconds.</summary>
    public const string ConfirmedAt = "confirmed-at";

    /// <summary>Two factors were used, or none is asked of this identity.</summary>
    public const string SecondFactor = "second-factor";

    /// <summary>A password alone, or another service alone, though the account has a passkey and no codes: its owner can prove more, and
    /// somebody who only knows the password cannot.</summary>
    public const string HalfProved = "half-proved";

    /// <summary>A program's identity: its key is its one factor.</summary>
    public static IEnumerable<Claim> ClaimsFor(Account account, Membership membership) =>
        [
            new(ClaimTypes.NameIdentifier, account.Id.ToString()),
            new(ClaimTypes.Name, account.Email),
            new(Practice, membership.Practice),
            new(Person, membership.PersonId.ToString()),
            new(Role, membership.Role.ToString()),
            new(SecondFactor, "1"),
        ];
}
