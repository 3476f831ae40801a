using BackHistory.Application;
using BackHistory.Service.Access;
using BackHistory.Store;

namespace BackHistory.Service.Web;

/// <summary>Who asks for an act whose object has no version: a document, or something new.</summary>
public static class Callers
{
    /// <summary>A form without a key of its own: every press is another act.</summary>
    public static Caller ByPress(HttpContext http, TimeProvider time) => CallerFor(http, time, $"press:{Guid.NewGuid():N}");

    /// <param name="sent">The key that the form or the request carries.</param>
    public static Caller CallerFor(HttpContext http, TimeProvider time, string sent)
    {
        var who = SignedIn.From(http.User);
        var context = new CommandContext(
            who.Practice,
            who.PersonId,
            CallerKey.KeyFor(who.PersonId, sent),
            "",
            null,
            time.GetUtcNow(),
            http.TraceIdentifier
        );
        return new Caller(context, who.Role);
    }
}
