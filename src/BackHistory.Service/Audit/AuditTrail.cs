using BackHistory.Service.Access;
using BackHistory.Store.Audit;
using BackHistory.Store.Horses;
using Microsoft.Extensions.Caching.Memory;

namespace BackHistory.Service.Audit;

/// <summary>Writes down who of the practice looked at which horse: once a quarter of an hour for the same person, horse and
/// thing.</summary>
public sealed class AuditTrail(AuditBook book, HorseQueries horses, TimeProvider time, ILogger<AuditTrail> log) : IDisposable
{
    private const int MostSeen = 100_000;
    private static readonly TimeSpan Again = TimeSpan.FromMinutes(15);
    private readonly MemoryCache _seen = new(new MemoryCacheOptions { SizeLimit = MostSeen });

    public void Dispose() => _seen.Dispose();

    /// <summary>What the worker of the pages says of itself.</summary>
    internal const string KeptOnDevice = "X-Kept-On-Device";

    public async Task Saw(HttpContext http)
    {
        if (http.Response.StatusCode != StatusCodes.Status200OK || !HttpMethods.IsGet(http.Request.Method))
            return;
        if (SignedIn.TryFrom(http.User) is not { } who || http.GetEndpoint() is not RouteEndpoint endpoint)
            return;
        if (
            !Guid.TryParse(
                http.Request.RouteValues.FirstOrDefault(r => r.Key.Equals("horseId", StringComparison.OrdinalIgnoreCase)).Value?.ToString(),
                out var horse
            )
        )
            return;
        var what = WhatOf(endpoint);
        // A device that fetches a page for where there is no connection has it, and nobody has looked at it.
        var word = http.Request.Headers.ContainsKey(KeptOnDevice) ? AuditWords.Kept : AuditWords.Saw;
        if (_seen.TryGetValue((who.Practice, who.PersonId, horse, $"{word} {what}"), out _))
            return;
        // What is not there was not seen, whatever page said so.
        if (await horses.Load(who.Practice, horse, CancellationToken.None) is null)
            return;
        _seen.Set(
            (who.Practice, who.PersonId, horse, $"{word} {what}"),
            true,
            new MemoryCacheEntryOptions { AbsoluteExpirationRelativeToNow = Again, Size = 1 }
        );
        try
        {
            await book.Note(
                who.Practice,
                new AuditNote(Guid.NewGuid(), time.GetUtcNow(), word, who.PersonId, horse) { Detail = what },
                CancellationToken.None
            );
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            log.LogError(e, "A look at a horse could not be written into the audit.");
        }
    }

    /// <summary>What somebody of the practice did that no event says.</summary>
    public Task Note(HttpContext http, string what, Guid? horseId = null, CancellationToken ct = default)
    {
        var who = SignedIn.From(http.User);
        return book.Note(who.Practice, new AuditNote(Guid.NewGuid(), time.GetUtcNow(), what, who.PersonId, horseId), ct);
    }

    /// <summary>The last word of the address says it: <c>timeline</c>, <c>visits</c>, <c>trend</c>; the horse's own page is <c>the
    /// horse</c>.</summary>
    private static string WhatOf(RouteEndpoint endpoint)
    {
        var last = endpoint.RoutePattern.PathSegments.LastOrDefault(s =>
            s.Parts[0] is Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart
        )
            is { } segment
            ? ((Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart)segment.Parts[0]).Content.TrimEnd('.')
            : "";
        return last is "horses" or "" ? "the horse" : last;
    }
}
