using BackHistory.Service.Access;

namespace BackHistory.Service.Web;

/// <summary>
/// A device that was without a connection says in <c>Entered-By</c> who was signed in when something was entered: whoever is signed in
/// now sends nothing of it, at no door.
/// </summary>
public static class EnteredBy
{
    /// <summary>Stands where it is known who asks.</summary>
    public static void UseEnteredBy(this WebApplication app) =>
        app.Use((http, next) => IsOfAnother(http) ? Problems.From(RequestRefusals.AnotherEntered).ExecuteAsync(http) : next(http));

    private static bool IsOfAnother(HttpContext http) =>
        !HttpMethods.IsGet(http.Request.Method)
        && !HttpMethods.IsHead(http.Request.Method)
        && http.Request.Headers["Entered-By"].ToString() is { Length: > 0 } by
        && SignedIn.TryFrom(http.User) is { } who
        && by != who.Key;
}
