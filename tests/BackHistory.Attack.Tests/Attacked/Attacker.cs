using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;

namespace BackHistory.Attack.Tests.Attacked;

/// <summary>Somebody who sends requests, and whose every answer is looked at.</summary>
/// <param name="kind">What they are, in the words of a report.</param>
/// <param name="side">The practice whose words they may read; null for nobody's.</param>
internal sealed class Attacker(AttackedService service, string kind, HttpClient client, Side? side) : IDisposable
{
    private int _keys;

    public string Kind => kind;

    public Side? Side => side;

    public void Dispose() => client.Dispose();

    /// <summary>One request that counts as an attempt.</summary>
    public async Task<Answer> Try(
        string attack,
        HttpMethod method,
        string path,
        HttpContent? content = null,
        string? key = null,
        string? ifMatch = "*",
        string? enteredBy = null
    )
    {
        var what = $"{kind} of {side?.Practice ?? "nowhere"}: {method} {Short(path)} {await Shown(content)}";
        var begun = TimeProvider.System.GetTimestamp();
        var answer = await Ask(method, path, content, key, ifMatch, enteredBy);
        service.Ledger.Took(what, TimeProvider.System.GetElapsedTime(begun));
        service.Ledger.Count(attack, (int)answer.Status);
        Judge(what, answer);
        return answer;
    }

    /// <summary>The same with JSON.</summary>
    public Task<Answer> Try(string attack, HttpMethod method, string path, string json, string? key = null) =>
        Try(attack, method, path, Json(json), key);

    /// <summary>A look that is no attempt of its own but has to hold as well.</summary>
    public async Task<Answer> Look(string path)
    {
        var answer = await Ask(HttpMethod.Get, path, null, null, null);
        Judge($"{kind} of {side?.Practice ?? "nowhere"} looks at {Short(path)}", answer);
        return answer;
    }

    /// <summary>An honest request, which nothing is counted of.</summary>
    public async Task<Answer> Honest(HttpMethod method, string path, HttpContent? content, string? key = null)
    {
        var what = $"{kind} of {side?.Practice ?? "nowhere"}, honestly: {method} {path} {await Shown(content)}";
        var answer = await Ask(method, path, content, key, "*");
        Judge(what, answer);
        return answer;
    }

    public static HttpContent Json(string json) => Bytes(Encoding.UTF8.GetBytes(json), "application/json");

    public static HttpContent Bytes(byte[] body, string type)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = MediaTypeHeaderValue.Parse(type);
        return content;
    }

    private async Task<Answer> Ask(
        HttpMethod method,
        string path,
        HttpContent? content,
        string? key,
        string? ifMatch,
        string? enteredBy = null
    )
    {
        using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative)) { Content = content };
        if (method != HttpMethod.Get)
        {
            var own = key ?? string.Create(CultureInfo.InvariantCulture, $"attack-{kind}-{Interlocked.Increment(ref _keys)}");
            request.Headers.TryAddWithoutValidation("Idempotency-Key", own);
            if (ifMatch is not null)
                request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
            if (enteredBy is not null)
                request.Headers.TryAddWithoutValidation("Entered-By", enteredBy);
        }

        try
        {
            using var answer = await client.SendAsync(request);
            return new Answer(answer.StatusCode, await answer.Content.ReadAsStringAsync(), answer.Headers.Location?.ToString());
        }
        catch (HttpRequestException e)
        {
            // A connection that the service closes while a body is still being sent is an answer too; a service that is gone is not.
            return new Answer(HttpStatusCode.RequestEntityTooLarge, $"(the connection was closed: {e.Message})");
        }
        catch (TaskCanceledException)
        {
            return new Answer(HttpStatusCode.GatewayTimeout, "(no answer within the client's patience)");
        }
    }

    private void Judge(string what, Answer answer)
    {
        if ((int)answer.Status >= 500)
            service.Ledger.Fault($"{(int)answer.Status} to {what}\n{Short(answer.Text)}\n{service.LastError()}");
        foreach (var foreign in new[] { Side.North, Side.South }.Where(s => s != side))
        {
            if (answer.Text.Contains(foreign.Canary, StringComparison.OrdinalIgnoreCase))
                service.Ledger.Fault($"{what} says a word of {foreign.Practice}: {Around(answer.Text, foreign.Canary)}");
        }
    }

    private static string Around(string text, string word)
    {
        var at = text.IndexOf(word, StringComparison.OrdinalIgnoreCase);
        return text[Math.Max(0, at - 80)..Math.Min(text.Length, at + 80)].ReplaceLineEndings(" ");
    }

    private static async Task<string> Shown(HttpContent? content) =>
        content is null ? "" : Short(Encoding.UTF8.GetString(await content.ReadAsByteArrayAsync()));

    private static string Short(string text) =>
        text.Length <= 700 ? text : $"{text[..300]} … {text[^200..]} ({text.Length.ToString(CultureInfo.InvariantCulture)} letters)";
}
