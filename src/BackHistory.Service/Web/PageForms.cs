using System.Text.Json;
using BackHistory.Application;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Store;

namespace BackHistory.Service.Web;

/// <summary>Hands what a page's own form holds to an act: with scripts and without, once for however often it is sent.</summary>
public sealed class PageForms(Progress progress, TimeProvider time)
{
    /// <summary>How long a page waits for what it will show next; it is shown a moment late rather than not at all.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    /// <summary>For a form that is shown anew: what is sent under one key is one act.</summary>
    public string NewKey() => Guid.CreateVersion7(time.GetUtcNow()).ToString();

    /// <param name="typed">Everything that was typed: sent again the same, it is the same act; with another word it is another.</param>
    /// <param name="version">What the page showed; null where it showed nothing that could have moved on.</param>
    public async Task<(Outcome? Outcome, Refused? Refused)> Give(
        HttpContext http,
        string key,
        object typed,
        long? version,
        Func<Caller, Task<Outcome>> act
    )
    {
        var (context, bad) = CommandRequest.OfForm(http, key, JsonSerializer.SerializeToUtf8Bytes(typed), time);
        if (bad is not null)
            return (null, bad);
        var outcome = await act(new Caller(context! with { ExpectedVersion = version }, SignedIn.From(http.User).Role));
        if (outcome.Refused is { } refused)
            return (null, refused);
        await progress.Wait(outcome.Sequence, Patience, time, http.RequestAborted);
        return (outcome, null);
    }
}
