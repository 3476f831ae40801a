using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using BackHistory.Application;
using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Store;
using Microsoft.Net.Http.Headers;

namespace BackHistory.Service.Web;

/// <summary>What every writing request carries besides its body: who, the idempotency key and the version that the caller saw.</summary>
public static class CommandRequest
{
    internal const int LongestKey = 200;

    /// <summary>Reads <c>Idempotency-Key</c> and <c>If-Match</c>; both are demanded of every command (<c>If-Match: *</c> accepts any
    /// version).</summary>
    /// <param name="body">The request's content, for the fingerprint.</param>
    /// <param name="creates">A command that starts a stream has no version to match.</param>
    public static (CommandContext? Context, Refused? Refused) Read(
        HttpContext http,
        ReadOnlySpan<byte> body,
        TimeProvider time,
        bool creates = false
    )
    {
        var who = SignedIn.From(http.User);
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' ');
        if (key.Length is 0 or > LongestKey)
            return (null, RequestRefusals.NoKey);
        long? expected = null;
        if (creates)
        {
            expected = 0;
        }
        else
        {
            var match = http.Request.Headers[HeaderNames.IfMatch].ToString();
            if (match.Length == 0)
                return (null, RequestRefusals.NoVersion);
            if (match != "*")
            {
                if (!long.TryParse(match.Trim('"', ' '), NumberStyles.None, CultureInfo.InvariantCulture, out var version))
                    return (null, RequestRefusals.BadVersion);
                expected = version;
            }
        }

        var fingerprint = Fingerprint(http.Request.Method, http.Request.Path + http.Request.QueryString, body);
        return (
            new CommandContext(
                who.Practice,
                who.PersonId,
                CallerKey.KeyFor(who.PersonId, key),
                fingerprint,
                expected,
                time.GetUtcNow(),
                http.TraceIdentifier
            ),
            null
        );
    }

    /// <summary>What a form without scripts carries in their place: a key of its own, and any version.</summary>
    /// <param name="key">The same however often the form is sent.</param>
    /// <param name="content">Everything that was typed and chosen, for the fingerprint.</param>
    public static (CommandContext? Context, Refused? Refused) OfForm(
        HttpContext http,
        string key,
        ReadOnlySpan<byte> content,
        TimeProvider time
    )
    {
        if (key.Length is 0 or > LongestKey)
            return (null, RequestRefusals.NoKey);
        var who = SignedIn.From(http.User);
        var fingerprint = Fingerprint(http.Request.Method, http.Request.Path + http.Request.QueryString, content);
        var person = CallerKey.KeyFor(who.PersonId, $"form:{key}");
        return (new CommandContext(who.Practice, who.PersonId, person, fingerprint, null, time.GetUtcNow(), http.TraceIdentifier), null);
    }

    /// <summary>The same of a form that posts to an address of its own.</summary>
    /// <param name="sent">The key that the form carries.</param>
    /// <param name="form">Its fields; the key and the token that guards the form are no content.</param>
    public static (CommandContext? Context, Refused? Refused) OfForm(
        HttpContext http,
        string key,
        string sent,
        IFormCollection form,
        TimeProvider time
    )
    {
        if (sent.Length == 0)
            return (null, RequestRefusals.NoKey);
        var content = form.Where(f => f.Key is not ("key" or "__RequestVerificationToken"))
            .OrderBy(f => f.Key, StringComparer.Ordinal)
            .Select(f => new KeyValuePair<string, string[]>(f.Key, [.. f.Value.OfType<string>()]));
        return OfForm(http, key, JsonSerializer.SerializeToUtf8Bytes(content), time);
    }

    /// <summary>Who asks for an act on no stream, or whose steps have keys of their own: an <c>Idempotency-Key</c> is demanded, a
    /// version is not.</summary>
    public static (Caller? By, Refused? Refused) Caller(HttpContext http, TimeProvider time)
    {
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim('"', ' ');
        if (key.Length is 0 or > LongestKey)
            return (null, RequestRefusals.NoKey);
        return (Callers.CallerFor(http, time, key), null);
    }

    /// <summary>The same request gives the same fingerprint; its key with another content is a mistake that is told.</summary>
    private static string Fingerprint(string method, string path, ReadOnlySpan<byte> body)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(System.Text.Encoding.UTF8.GetBytes($"{method} {path}\n"));
        hash.AppendData(body);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
