using BackHistory.History;
using BackHistory.Service.Access;

namespace BackHistory.Service.Web;

/// <summary>Ids of new things follow from the idempotency key: a repeated request names the same thing.</summary>
internal static class NewIds
{
    public static Guid Of(HttpContext http, string what, int number = 0)
    {
        var who = SignedIn.From(http.User);
        // Of this person: somebody else's request with the same key makes another thing.
        return DeterministicId.Of(
            what,
            who.Practice,
            who.PersonId.ToString("N"),
            http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' '),
            number.ToString(System.Globalization.CultureInfo.InvariantCulture)
        );
    }
}
