using System.Security.Claims;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Access;

/// <summary>The person behind a request, in the practice of their membership.</summary>
/// <param name="Practice">The tenant.</param>
public sealed record SignedIn(string Practice, Guid PersonId, PracticeRole Role)
{
    /// <summary>The same person in the same practice, as a device writes it beside what it keeps.</summary>
    public string Key => $"{PersonId:N}@{Practice}";

    /// <exception cref="InvalidOperationException">The endpoint let somebody through who is in no practice: its policy is
    /// wrong.</exception>
    public static SignedIn From(ClaimsPrincipal user) =>
        TryFrom(user) ?? throw new InvalidOperationException("a request without a practice passed its policy");

    public static SignedIn? TryFrom(ClaimsPrincipal user) =>
        user.FindFirstValue(PracticeClaims.Practice) is { Length: > 0 } practice
        && Guid.TryParse(user.FindFirstValue(PracticeClaims.Person), out var person)
        && Enum.TryParse<PracticeRole>(user.FindFirstValue(PracticeClaims.Role), out var role)
            ? new SignedIn(practice, person, role)
            : null;
}
