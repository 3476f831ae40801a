using BackHistory.History;
using BackHistory.Service.Access;

namespace BackHistory.Service.Web;

/// <summary>Ids of new things follow from the idempotency key: a repeated request names the same thing.</summary>
internal static class NewIds
{
    public static Guid IdFor(HttpContext http, string what, int number = 0) =>
        IdFor(SignedIn.From(http.User), http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' '), what, number);

    /// <param name="key">That of a form without scripts.</param>
    public static Guid IdForForm(SignedIn who, string key, string what, int number = 0) => IdFor(who, $"form:{key}", what, number);

    /// <summary>Of this person: somebody else's request with the same key makes another thing.</summary>
    private static Guid IdFor(SignedIn who, string key, string what, int number) =>
        DeterministicId.From(
            what,
            who.Practice,
            who.PersonId.ToString("N"),
            key,
            number.ToString(System.Globalization.CultureInfo.InvariantCulture)
        );
}
