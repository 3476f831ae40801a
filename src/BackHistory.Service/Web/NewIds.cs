using BackHistory.History;
using BackHistory.Service.Access;

namespace BackHistory.Service.Web;

/// <summary>Ids of new things follow from the idempotency key: a repeated request names the same thing.</summary>
internal static class NewIds
{
    public static Guid Of(HttpContext http, string what, int number = 0) => DeterministicId.Of(
        what, SignedIn.From(http.User).Practice, http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' '),
        number.ToString(System.Globalization.CultureInfo.InvariantCulture));
}
