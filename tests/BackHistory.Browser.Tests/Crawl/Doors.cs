using System.Reflection;
using System.Text.RegularExpressions;
using BackHistory.Testing;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.Routing.Template;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>The addresses of the service, by their templates.</summary>
internal sealed partial class Doors(IEnumerable<EndpointDataSource> sources)
{
    private readonly IReadOnlyList<(RouteEndpoint Endpoint, TemplateMatcher Matcher, string Template)> _all =
    [
        .. sources
            .SelectMany(s => s.Endpoints)
            .OfType<RouteEndpoint>()
            .OrderBy(e => e.RoutePattern.InboundPrecedence)
            .Select(e => (e, new TemplateMatcher(new RouteTemplate(e.RoutePattern), []), "/" + e.RoutePattern.RawText!.TrimStart('/'))),
    ];

    /// <summary>Pages, by their templates.</summary>
    public IReadOnlyList<string> Pages => [.. _all.Where(d => IsPage(d.Endpoint)).Select(d => d.Template).Distinct(StringComparer.Ordinal)];

    /// <summary>Verb and template of what writes.</summary>
    public IReadOnlyList<string> Writing =>
        [
            .. _all.SelectMany(d => Verbs(d.Endpoint).Where(v => v is not ("GET" or "HEAD")).Select(v => $"{v} {d.Template}"))
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ];

    /// <summary>Those that forms of pages send to: what is no interface, and of the interface what a form names.</summary>
    public IReadOnlyList<string> FormsSendTo
    {
        get
        {
            var named = Directory
                .EnumerateFiles(Path.Combine(Repository.Root, "src", "BackHistory.Service"), "*.razor", SearchOption.AllDirectories)
                .SelectMany(f => Sends().Matches(Filled().Replace(File.ReadAllText(f), "x")))
                .Select(m => $"{m.Groups["verb"].Value} {Of(m.Groups["verb"].Value, $"http://here{m.Groups["address"].Value}")}")
                .ToHashSet(StringComparer.Ordinal);
            return [.. Writing.Where(d => !d.Contains(" /api/", StringComparison.Ordinal) || named.Contains(d))];
        }
    }

    /// <summary>The template of an address; null where the service has none.</summary>
    public string? Of(string verb, string url)
    {
        var path = new PathString(Uri.UnescapeDataString(new Uri(url).AbsolutePath));
        return _all.FirstOrDefault(d => Verbs(d.Endpoint).Contains(verb, StringComparer.Ordinal) && d.Matcher.TryMatch(path, [])).Template;
    }

    private static bool IsPage(RouteEndpoint endpoint) => endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is not null;

    private static IReadOnlyList<string> Verbs(RouteEndpoint endpoint)
    {
        if (endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is not { } page)
            return endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"];
        const BindingFlags Members = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic;
        return page.Type.GetProperties(Members).Any(p => p.IsDefined(typeof(SupplyParameterFromFormAttribute), inherit: true))
            ? ["GET", "POST"]
            : ["GET"];
    }

    /// <summary>What Razor fills in.</summary>
    [GeneratedRegex(@"@\((?:[^()]|\([^()]*\))*\)|@[A-Za-z_][\w.!]*(?:\([^()]*\))?", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Filled();

    [GeneratedRegex("data-send=\"(?<verb>[A-Z]+) (?<address>[^\"]+)\"", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Sends();
}
