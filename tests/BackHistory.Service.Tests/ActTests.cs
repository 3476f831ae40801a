using System.Reflection;
using System.Text.RegularExpressions;
using BackHistory.Application;
using BackHistory.Application.Access;
using BackHistory.Application.Registration;
using BackHistory.Application.Reminders;
using BackHistory.Application.Visits;
using BackHistory.Service.Web;
using BackHistory.Testing;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>The acts and the doors that lead to them: an act's right is asked at each of its doors, each door leads to one act, and each
/// act has a page.</summary>
public sealed partial class ActTests(RunningService service, ITestOutputHelper output)
{
    /// <summary>Reached otherwise than over HTTP, with the reason.</summary>
    private static readonly Dictionary<Type, string> WithoutAddress = new()
    {
        [typeof(OpenPractice)] = "the command line founds a practice: whoever runs the machine is whose it is",
        [typeof(RecoverAccount)] = "the command line lets somebody in anew who lost telephone and codes: whoever runs the machine may",
    };

    /// <summary>What the reader of a letter may do by its links.</summary>
    private static readonly Type[] ByLink = [typeof(GiveAnswer)];

    private IEnumerable<RouteEndpoint> Endpoints =>
        service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>();

    /// <summary>Doors by the names of what they bind; a door that leads to an act takes that act as a parameter.</summary>
    [Fact]
    public void Every_endpoint_that_reaches_an_act_asks_for_the_acts_right()
    {
        var reached = new HashSet<Type>();
        var wrong = new List<string>();
        foreach (var endpoint in Endpoints)
        {
            foreach (var act in ActsBehind(endpoint))
            {
                reached.Add(act);
                var needs = (Right)act.GetProperty(nameof(IAct.Needs))!.GetValue(null)!;
                var asks = endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Select(a => a.Policy).ToList();
                if (needs == Right.Hold || (ByLink.Contains(act) && IsByHolder(endpoint)))
                    continue;
                // Two policies would be the stronger of both: the door would ask for more than the act does.
                var rights = asks.Where(a => Enum.TryParse<Right>(a, ignoreCase: true, out _))
                    .Select(a => Enum.Parse<Right>(a!, ignoreCase: true))
                    .ToList();
                if (rights.Count == 0 || rights.Max() != needs)
                    wrong.Add(
                        $"{endpoint.RoutePattern.RawText} reaches {act.Name}, which needs {needs}, and asks {string.Join(", ", asks)}"
                    );
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(Acts.All.Except(WithoutAddress.Keys).Order(ByName), reached.Order(ByName));
        Assert.Contains(typeof(EnterVisit), reached);
    }

    [Fact]
    public void Every_writing_endpoint_reaches_exactly_one_act_or_stands_on_a_list()
    {
        var writing = Endpoints.SelectMany(Writing).Distinct().ToList();
        var missing = new List<string>();
        var (one, listed) = (0, new HashSet<string>(StringComparer.Ordinal));
        foreach (var (door, endpoint) in writing)
        {
            var acts = ActsBehind(endpoint).ToList();
            if (acts.Count == 1)
                one++;
            else if (EndpointsWithoutAct.Reason(door) is not null)
                listed.Add(door);
            else
                missing.Add($"{door} reaches {(acts.Count == 0 ? "no act" : string.Join(" and ", acts.Select(a => a.Name)))}");
        }

        output.WriteLine($"{writing.Count} writing doors: {one} reach one act, {listed.Count} stand on a list with its reason");
        foreach (var list in listed.GroupBy(EndpointsWithoutAct.Reason))
            output.WriteLine($"  {list.Count()}: {list.Key}");
        foreach (var door in EndpointsWithoutAct.All.Except(listed, StringComparer.Ordinal))
            output.WriteLine($"  needs its list no longer: {door}");
        Assert.True(missing.Count == 0, string.Join('\n', missing.Order(StringComparer.Ordinal)));
        var gone = EndpointsWithoutAct.All.Except(writing.Select(w => w.Door), StringComparer.Ordinal);
        Assert.True(!gone.Any(), $"on a list, and no longer there: {string.Join(", ", gone)}");
        Assert.True(one > 40, $"only {one} doors reach an act");
    }

    [Fact]
    public void Every_act_is_reached_from_a_page_or_stands_on_a_list()
    {
        var sent = SentFromPages();
        Assert.True(sent.Count > 50, $"only {sent.Count} addresses were found in pages and scripts");
        var doors = Endpoints.SelectMany(e => ActsBehind(e).Select(act => (Act: act, Endpoint: e))).ToList();
        var (shown, unshown) = (new List<Type>(), new List<Type>());
        foreach (var act in Acts.All.Except(WithoutAddress.Keys))
        {
            var has = doors.Where(d => d.Act == act).Any(d => IsPage(d.Endpoint) || Writing(d.Endpoint).Any(w => IsSent(w.Door, sent)));
            (has ? shown : unshown).Add(act);
        }

        output.WriteLine($"{Acts.All.Count} acts: {shown.Count} are reached from a page, {unshown.Count} only otherwise");
        var listed = File.ReadLines(Path.Combine(Repository.Root, "tests", "BackHistory.Service.Tests", "acts-without-page.txt"))
            .Where(l => l.Length > 0 && l[0] != '#')
            .ToHashSet(StringComparer.Ordinal);
        var missing = unshown.Select(a => a.Name).Except(listed, StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        Assert.True(missing.Count == 0, $"no page leads to {string.Join(", ", missing)}");
        var found = listed.Except(unshown.Select(a => a.Name), StringComparer.Ordinal).ToList();
        Assert.True(found.Count == 0, $"these need the list no longer: {string.Join(", ", found)}");
    }

    /// <summary>By the last word of its address, in what other pages, redirects and letters say.</summary>
    [Fact]
    public void Every_page_is_led_to_from_somewhere_else()
    {
        var sources = new[] { "*.razor", "*.cs", "*.ts" }
            .SelectMany(kind => Directory.EnumerateFiles(Path.Combine(Repository.Root, "src"), kind, SearchOption.AllDirectories))
            .Where(f => !Built().IsMatch(f))
            .Select(f => (Name: Path.GetFileNameWithoutExtension(f), Lines: File.ReadLines(f).Where(l => !Declared().IsMatch(l))))
            .Select(f => (f.Name, Text: string.Join('\n', f.Lines)))
            .ToList();
        // What answers where nothing is leads nobody anywhere.
        var pages = Endpoints.Where(IsPage).GroupBy(e => e.Metadata.GetMetadata<ComponentTypeMetadata>()!.Type.Name).ToList();
        Assert.True(pages.Count > 50, $"only {pages.Count} pages");
        var alone = pages.Where(page => page.Key != nameof(NothingHere) && !page.Any(address => IsLedTo(page.Key, address)));
        Assert.Empty(alone.Select(p => p.Key));

        bool IsLedTo(string page, RouteEndpoint endpoint)
        {
            var address = endpoint.RoutePattern.RawText!;
            var word = address.Split('/').LastOrDefault(s => s.Length > 0 && s[0] != '{');
            var next = address.EndsWith('}') ? "/[@{$*]" : "[\"'?#`&{@]";
            return word is null || sources.Any(s => s.Name != page && Regex.IsMatch(s.Text, $"/{Regex.Escape(word)}{next}"));
        }
    }

    /// <summary>A door that leads to an act takes it as a parameter, alone or among others; a page has it injected.</summary>
    private static IEnumerable<Type> ActsBehind(RouteEndpoint endpoint)
    {
        var bound = (endpoint.Metadata.GetMetadata<MethodInfo>()?.GetParameters() ?? []).SelectMany(p =>
            p.IsDefined(typeof(AsParametersAttribute), inherit: false)
                ? p.ParameterType.GetConstructors().Single().GetParameters().Select(one => one.ParameterType)
                : [p.ParameterType]
        );
        var injected = (endpoint.Metadata.GetMetadata<ComponentTypeMetadata>()?.Type.GetProperties(Members) ?? [])
            .Where(p => p.IsDefined(typeof(InjectAttribute), inherit: true))
            .Select(p => p.PropertyType);
        return Acts.All.Intersect(bound.Concat(injected));
    }

    /// <summary>Verb and address of what changes something. A page is one where it takes a form.</summary>
    private static IEnumerable<(string Door, RouteEndpoint Endpoint)> Writing(RouteEndpoint endpoint)
    {
        if (endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is { } page)
        {
            if (page.Type.GetProperties(Members).Any(p => p.IsDefined(typeof(SupplyParameterFromFormAttribute), inherit: true)))
                yield return ($"POST {endpoint.RoutePattern.RawText}", endpoint);
            yield break;
        }

        foreach (var verb in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? [])
        {
            if (verb is "POST" or "PUT" or "PATCH" or "DELETE")
                yield return ($"{verb} {endpoint.RoutePattern.RawText}", endpoint);
        }
    }

    private static bool IsPage(RouteEndpoint endpoint) => endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is not null;

    /// <summary>Whoever comes by a sealed link, or by a grant, holds that instead of a right.</summary>
    private static bool IsByHolder(RouteEndpoint endpoint) =>
        endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null
        || endpoint.RoutePattern.RawText!.StartsWith("/shared-with-me/", StringComparison.Ordinal);

    private static bool IsSent(string door, IReadOnlySet<string> sent)
    {
        var (verb, address) = (
            door[..door.IndexOf(' ', StringComparison.Ordinal)],
            door[(door.IndexOf(' ', StringComparison.Ordinal) + 1)..]
        );
        var pattern = new Regex(
            $"^({verb} |\\? )(\\*/{Regex.Escape(address.Split('/')[^1])}|{Hole().Replace(Regex.Escape(address.TrimEnd('/')), "[^/]+")})/?$",
            RegexOptions.None,
            Regex.InfiniteMatchTimeout
        );
        return sent.Any(pattern.IsMatch);
    }

    /// <summary>The addresses that forms of pages and scripts send to, each with its verb; <c>?</c> where a script names it elsewhere, and
    /// <c>*</c> for what is filled in.</summary>
    private static HashSet<string> SentFromPages()
    {
        var sent = new HashSet<string>(StringComparer.Ordinal);
        var folder = Path.Combine(Repository.Root, "src", "BackHistory.Service");
        foreach (var file in Directory.EnumerateFiles(folder, "*.razor", SearchOption.AllDirectories))
        {
            var text = Filled().Replace(File.ReadAllText(file), "*");
            foreach (Match m in Sends().Matches(text))
                sent.Add($"{(m.Groups["verb"].Success ? m.Groups["verb"].Value : "POST")} {m.Groups["address"].Value.Split('?')[0]}");
        }

        foreach (var file in Directory.EnumerateFiles(Path.Combine(folder, "Scripts", "src"), "*.ts", SearchOption.AllDirectories))
        {
            foreach (Match m in Quoted().Matches(FilledInScript().Replace(File.ReadAllText(file), "*")))
                sent.Add($"? {m.Groups["address"].Value.Split('?')[0]}");
        }

        return sent;
    }

    private const BindingFlags Members = BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic;

    private static readonly Comparer<Type> ByName = Comparer<Type>.Create((a, b) => string.CompareOrdinal(a.Name, b.Name));

    /// <summary>What Razor fills in: <c>@(…)</c>, or <c>@Name.Of(…)</c>.</summary>
    [GeneratedRegex(@"@\((?:[^()]|\([^()]*\))*\)|@[A-Za-z_][\w.!]*(?:\([^()]*\))?", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Filled();

    [GeneratedRegex("/(obj|bin|node_modules|wwwroot)/")]
    private static partial Regex Built();

    /// <summary>A page's own address, or an endpoint's.</summary>
    [GeneratedRegex(@"^@page|\.Map\w+\(|///")]
    private static partial Regex Declared();

    [GeneratedRegex(@"\$\{[^}]*\}", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex FilledInScript();

    [GeneratedRegex(
        "data-send=\"(?<verb>[A-Z]+) (?<address>[^\"]+)\"|(?:form)?action=\"(?<address>[^\"]+)\"|data-(?:keep|dry)=\"(?<address>[^\"]+)\"",
        RegexOptions.None,
        Timeout.Infinite
    )]
    private static partial Regex Sends();

    [GeneratedRegex("[`'\"](?<address>/[^`'\"]+)[`'\"]", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Quoted();

    /// <summary>A parameter of a route, after escaping: <c>\{horseId:guid}</c>.</summary>
    [GeneratedRegex(@"\\\{[^}]+\}", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Hole();
}
