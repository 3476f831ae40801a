using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.Routing.Patterns;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>Every endpoint, five kinds of stranger, every id of the practice in every place that an id can stand.</summary>
public sealed partial class MatrixTests(RunningService service, ITestOutputHelper output)
{
    /// <summary>Bodies that a writing endpoint takes, with an id of somebody else's where one can stand; <c>{0}</c> is that id.</summary>
    private static readonly (string Path, string Place, string Body)[] Bodies =
    [
        ("/api/horses", "body", """{"name":"Copied","ownerId":"{0}","yardId":"{0}"}"""),
        ("/api/horses/{own}", "body", """{"name":"Copied","reason":"Copied.","ownerId":"{0}"}"""),
        (
            "/api/horses/{own}/visits",
            "body",
            """
            {"takenAt":"2025-05-01T10:00:00Z","method":"copied","by":"{0}","conditions":{"holder":"{0}"},"entries":[{"kind":"weight",
            "value":500,"unit":"kg"}]}
            """
        ),
        ("/api/horses/{own}/visits/{0}/entries", "nested", """{"entries":[{"kind":"weight","value":500,"unit":"kg","entryId":"{0}"}]}"""),
        ("/api/horses/{own}/visits/{0}/withdraw", "nested", """{"reason":"Not mine."}"""),
        ("/api/horses/{own}/owner", "body", """{"ownerId":"{0}"}"""),
        ("/api/horses/{own}/yard", "body", """{"yardId":"{0}"}"""),
        ("/api/horses/{own}/care-roles", "body", """{"personId":"{0}","role":"veterinarian"}"""),
        ("/api/horses/{own}/care", "bulk", """{"kind":"illness","from":"2025-01-01","words":"x","about":["{0}","{0}"]}"""),
        ("/api/horses/{own}/sharing/grants", "body", """{"personId":"{0}","role":"veterinarian"}"""),
        ("/api/horses/{own}/sharing/links", "body", """{"personId":"{0}","role":"veterinarian"}"""),
        ("/api/horses/{own}/sharing/grants/{0}/take-back", "nested", "{}"),
        ("/api/horses/{own}/sharing/links/{0}/take-back", "nested", "{}"),
        ("/api/saddles", "body", """{"label":"Copied","ownerId":"{0}"}"""),
        (
            "/api/saddles/{0}/work",
            "body",
            """{"kind":"set","horseId":"{0}","visitId":"{0}","takenAt":"2025-05-01T10:00:00Z","fresh":false}"""
        ),
        ("/api/saddles/{0}/move", "body", """{"fromHorseId":"{0}","horseId":"{0}"}"""),
        ("/api/saddles/{0}/trials", "body", """{"horseId":"{0}"}"""),
        ("/api/saddles/{0}/pads", "body", """{"horseId":"{0}","pad":"wool"}"""),
        ("/api/saddles/{0}/take-off", "body", """{"horseId":"{0}","reason":"x"}"""),
        ("/api/reminders/{0}/answer", "body", """{"answer":"book"}"""),
        ("/api/reminders/{0}/close", "body", """{"reason":"Not mine."}"""),
        ("/api/reminders/{0}/book", "body", """{"for":"2027-01-01T10:00:00Z"}"""),
        ("/api/people/{0}", "body", """{"name":"Taken Over","role":"owner"}"""),
        // Last: from then on the stranger has a visit of this id, of their own.
        (
            "/api/horses/{own}/visits",
            "nested",
            """
            {"id":"{0}","takenAt":"2025-05-01T10:00:00Z","method":"copied","entries":[{"kind":"weight","value":500,"unit":"kg",
            "entryId":"{0}"}]}
            """
        ),
    ];

    private readonly Dictionary<string, int> _attempts = new(StringComparer.Ordinal);
    private readonly List<string> _leaks = [];
    private readonly Dictionary<string, string> _missing = new(StringComparer.Ordinal);

    [Fact]
    public async Task No_stranger_learns_or_changes_anything_and_a_foreign_id_answers_as_a_missing_one()
    {
        var secret = new Strangers(service);
        await secret.Fill();
        var before = await secret.Last();
        var strangers = await secret.Come();
        var settled = await secret.Last();
        foreach (var (kind, client, own) in strangers)
        {
            foreach (var endpoint in Endpoints())
            {
                foreach (var method in MethodsOf(endpoint))
                    await Walk(kind, client, own, endpoint, method, secret.Ids);
            }
        }

        // Afterwards: what a stranger writes into their own practice may well name a foreign id, and is theirs to find again.
        foreach (var (kind, client, own) in strangers)
        {
            foreach (var (path, place, body) in Bodies)
            {
                foreach (var (what, id) in secret.Ids)
                {
                    var address = path.Replace("{own}", own.ToString(), StringComparison.Ordinal);
                    var method =
                        path is "/api/horses/{own}" or "/api/people/{0}"
                        || path.EndsWith("/owner", StringComparison.Ordinal)
                        || path.EndsWith("/yard", StringComparison.Ordinal)
                            ? HttpMethod.Put
                            : HttpMethod.Post;
                    await Try(kind, place, "write", client, method, address, body, id, $"{path} with the {what}");
                }
            }
        }

        var total = _attempts.Values.Sum();
        output.WriteLine($"{total} attempts, {_leaks.Count} leaks");
        foreach (var (what, count) in _attempts.OrderBy(a => a.Key, StringComparer.Ordinal))
            output.WriteLine($"{what}: {count}");
        Console.WriteLine($"strangers: {total} attempts, {_leaks.Count} leaks");
        Assert.True(_leaks.Count == 0, string.Join('\n', _leaks.Take(20)));
        Assert.True(total >= 2000, $"only {total} attempts");
        foreach (var verb in new[] { "read", "write", "delete", "list", "export", "chart", "link" })
            Assert.Contains(_attempts.Keys, k => k.StartsWith(verb, StringComparison.Ordinal));
        foreach (var place in new[] { "route", "query", "body", "bulk", "nested" })
            Assert.Contains(_attempts.Keys, k => k.EndsWith(place, StringComparison.Ordinal));
        Assert.True(before <= settled);
        Assert.True(await secret.WrittenSince(0) > 0, "what was written about them at the start is not seen");
        Assert.Equal(0, await secret.WrittenSince(settled));
    }

    private List<RouteEndpoint> Endpoints() =>
        [
            .. service
                .Services.GetRequiredService<IEnumerable<EndpointDataSource>>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e => !e.Metadata.Any(m => m.GetType().Name.Contains("StaticAsset", StringComparison.Ordinal)))
                .Where(e =>
                    e.RoutePattern.RawText is { } path
                    && !path.Contains("{**", StringComparison.Ordinal)
                    && !path.StartsWith("/_", StringComparison.Ordinal)
                    && !path.StartsWith("/health", StringComparison.Ordinal)
                    && path != "/sign-out"
                ),
        ];

    private static IEnumerable<HttpMethod> MethodsOf(RouteEndpoint endpoint) =>
        endpoint
            .Metadata.GetMetadata<HttpMethodMetadata>()
            ?.HttpMethods.Where(m => m is not ("HEAD" or "OPTIONS"))
            .Select(m => new HttpMethod(m))
        ?? [HttpMethod.Get];

    private async Task Walk(
        string kind,
        HttpClient client,
        Guid own,
        RouteEndpoint endpoint,
        HttpMethod method,
        Dictionary<string, Guid> ids
    )
    {
        var verb = VerbOf(endpoint.RoutePattern.RawText!, method);
        var parameters = endpoint.RoutePattern.Parameters.Where(IsId).Select(p => p.Name).ToList();
        foreach (var (what, id) in ids)
        {
            if (parameters.Count > 0)
            {
                await Try(
                    kind,
                    "route",
                    verb,
                    client,
                    method,
                    Path(endpoint, _ => "{0}"),
                    method == HttpMethod.Get ? null : """{"reason":"x"}""",
                    id,
                    $"{method} {endpoint.RoutePattern.RawText} with the {what}"
                );
                if (parameters.Count > 1)
                    await Try(
                        kind,
                        "nested",
                        verb,
                        client,
                        method,
                        Path(endpoint, name => name == parameters[0] ? own.ToString() : "{0}"),
                        method == HttpMethod.Get ? null : """{"reason":"x"}""",
                        id,
                        $"{method} {endpoint.RoutePattern.RawText} under an own one with the {what}"
                    );
            }
            else if (method == HttpMethod.Get)
            {
                const string Query =
                    "?horseId={0}&horse={0}&visitId={0}&visits={0}&visit={0}&saddleId={0}&personId={0}&yard={0}"
                    + "&yardId={0}&before={0}&ownerId={0}&reminderId={0}&id={0}";
                await Try(
                    kind,
                    "query",
                    verb,
                    client,
                    method,
                    Path(endpoint, _ => "x") + Query,
                    null,
                    id,
                    $"{endpoint.RoutePattern.RawText} asked for the {what}"
                );
            }
        }
    }

    /// <summary>Asks once for an id of the practice's, and compares with the answer for one that nobody has.</summary>
    private async Task Try(
        string kind,
        string place,
        string verb,
        HttpClient client,
        HttpMethod method,
        string path,
        string? body,
        Guid id,
        string what
    )
    {
        var key = $"{kind} {method} {path} {body}";
        if (!_missing.TryGetValue(key, out var missing))
            missing = _missing[key] = await Ask(client, method, path, body, Guid.NewGuid());
        var foreign = await Ask(client, method, path, body, id);
        var count = $"{verb} by {place}";
        _attempts[count] = _attempts.GetValueOrDefault(count) + 1;
        if (Strangers.Secrets.FirstOrDefault(s => foreign.Contains(s, StringComparison.OrdinalIgnoreCase)) is { } word)
            _leaks.Add($"{kind}: {what}: says {word}");
        if (foreign[0] == '5')
            _leaks.Add($"{kind}: {what}: an error of ours: {foreign[..3]}");
        // How far the service has come moves on by itself between two answers: a difference that is of the id stays.
        for (var again = 0; foreign != missing && again < 5; again++)
        {
            missing = _missing[key] = await Ask(client, method, path, body, Guid.NewGuid());
            foreign = await Ask(client, method, path, body, id);
        }
        if (foreign != missing)
            _leaks.Add($"{kind}: {what}: answers otherwise than for nothing: {Difference(foreign, missing)}");
    }

    /// <summary>Status, headers and body as they came, with the id that was asked for, fresh ids, seals and the time of day taken
    /// out.</summary>
    private static async Task<string> Ask(HttpClient client, HttpMethod method, string path, string? body, Guid id)
    {
        using var request = new HttpRequestMessage(method, path.Replace("{0}", id.ToString(), StringComparison.Ordinal));
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        if (body is not null)
            request.Content = new StringContent(
                body.Replace("{0}", id.ToString(), StringComparison.Ordinal),
                Encoding.UTF8,
                "application/json"
            );
        using var answer = await client.SendAsync(request);
        var headers = answer
            .Headers.Concat(answer.Content.Headers)
            .Where(h =>
                h.Key is not ("Date" or "Content-Length" or "ETag")
                && !(h.Key == "Set-Cookie" && h.Value.All(c => c.StartsWith("backhistory-form=", StringComparison.Ordinal)))
            )
            .OrderBy(h => h.Key, StringComparer.Ordinal)
            .Select(h => $"{h.Key}: {string.Join(',', h.Value)}");
        var said = $"{(int)answer.StatusCode}\n{string.Join('\n', headers)}\n{await Said(answer.Content)}";
        return Versions()
            .Replace(
                Traces().Replace(Seals().Replace(FormKeys().Replace(Guids().Replace(said, "{id}"), "{key}"), "{seal}"), "{trace}"),
                "\"version\":0"
            );
    }

    /// <summary>An archive by what is packed in it. That it was taken stands in the audit and so in
    /// the next one.</summary>
    private static async Task<string> Said(HttpContent content)
    {
        if (content.Headers.ContentType?.MediaType != "application/zip")
            return await content.ReadAsStringAsync();
        using var archive = new System.IO.Compression.ZipArchive(await content.ReadAsStreamAsync());
        var said = new StringBuilder();
        foreach (var entry in archive.Entries.Where(e => e.FullName is not ("documents/audit.jsonl" or "manifest.json")))
        {
            using var text = new StreamReader(await entry.OpenAsync());
            said.Append(entry.FullName).Append('\n').Append(await text.ReadToEndAsync());
        }

        return said.ToString();
    }

    private static string Difference(string foreign, string missing)
    {
        var at = foreign.Zip(missing).TakeWhile(c => c.First == c.Second).Count();
        string Around(string text) =>
            text[Math.Max(0, Math.Min(at, text.Length) - 60)..Math.Min(text.Length, at + 120)].ReplaceLineEndings(" ");
        return $"'{Around(foreign)}' and '{Around(missing)}'";
    }

    private static bool IsId(RoutePatternParameterPart parameter) =>
        parameter.ParameterPolicies.Any(p => p.Content == "guid") || parameter.Name == "keyId";

    private static string Path(RouteEndpoint endpoint, Func<string, string> id) =>
        "/"
        + string.Join(
            '/',
            endpoint.RoutePattern.PathSegments.Select(segment =>
                string.Concat(
                    segment.Parts.Select(part =>
                        part switch
                        {
                            RoutePatternLiteralPart literal => literal.Content,
                            RoutePatternSeparatorPart separator => separator.Content,
                            RoutePatternParameterPart parameter when IsId(parameter) => id(parameter.Name),
                            RoutePatternParameterPart { Name: "form" } => "svg",
                            RoutePatternParameterPart { Name: "version" } => "1",
                            RoutePatternParameterPart { Name: "documentName" } => "v1",
                            RoutePatternParameterPart { Name: "kind" } => "topline",
                            _ => "x",
                        }
                    )
                )
            )
        );

    private static string VerbOf(string path, HttpMethod method) =>
        method == HttpMethod.Delete
        || path.Contains("withdraw", StringComparison.Ordinal)
        || path.Contains("take-back", StringComparison.Ordinal)
        || path.Contains("remove", StringComparison.Ordinal)
            ? "delete"
        : method != HttpMethod.Get ? "write"
        : path.Contains("{token}", StringComparison.OrdinalIgnoreCase) || path.Contains("shared-with-me", StringComparison.Ordinal) ? "link"
        : path.Contains("chart", StringComparison.Ordinal)
        || path.Contains("{form}", StringComparison.Ordinal)
        || path.EndsWith(".svg", StringComparison.Ordinal)
            ? "chart"
        : path.Contains("report", StringComparison.Ordinal)
        || path.Contains("export", StringComparison.Ordinal)
        || path.Contains("files", StringComparison.Ordinal)
        || path.Contains("back.json", StringComparison.Ordinal)
            ? "export"
        : path.Contains('{', StringComparison.Ordinal) ? "read"
        : "list";

    [GeneratedRegex("[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{12}", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Guids();

    /// <summary>A form's idempotency key, new with every page.</summary>
    [GeneratedRegex("(?<=name=\"key\" value=\")[0-9a-f]{32}(?=\")", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex FormKeys();

    [GeneratedRegex("CfDJ8[A-Za-z0-9_%-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Seals();

    [GeneratedRegex(
        "\"(?:traceId|next)\":\"[^\"]*\"|\"(?:recordedAt|registeredAt|at|takenAt)\":\"[^\"]*\"",
        RegexOptions.None,
        Timeout.Infinite
    )]
    private static partial Regex Traces();

    [GeneratedRegex("\"(?:version|streamVersion)\":[0-9]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Versions();
}
