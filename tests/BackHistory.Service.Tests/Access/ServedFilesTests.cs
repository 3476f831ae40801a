using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>What lies in the folder from which the service serves, and what is served of it.</summary>
public sealed partial class ServedFilesTests(RunningService service)
{
    private static readonly string[] Kinds = [".css", ".js", ".mjs", ".svg", ".ico", ".png", ".webmanifest"];

    private IReadOnlyList<string> Files =>
        [
            .. service
                .Services.GetRequiredService<IEnumerable<EndpointDataSource>>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e => e.Metadata.Any(m => m.GetType().Name.Contains("StaticAsset", StringComparison.Ordinal)))
                .Select(e => "/" + e.RoutePattern.RawText!.TrimStart('/'))
                .Distinct(StringComparer.Ordinal),
        ];

    [Fact]
    public async Task What_is_served_is_a_fixed_list_of_pages_parts_and_no_folder_lists_it()
    {
        Assert.True(Files.Count >= 5, $"only {Files.Count} files are served");
        // Packed beside itself is the same file.
        Assert.All(
            Files,
            f =>
                Assert.Contains(
                    Path.GetExtension(
                        f.EndsWith(".gz", StringComparison.Ordinal) || f.EndsWith(".br", StringComparison.Ordinal) ? f[..^3] : f
                    ),
                    Kinds
                )
        );
        using var client = service.Anonymous();
        var missing = await Said(client, "/nothing/of/this/name");
        var folders = Files.SelectMany(FoldersOf).Distinct(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(folders);
        foreach (var folder in folders.SelectMany(f => new[] { f, f.TrimEnd('/'), f + "?C=M;O=A", f + ".", f + "%2e/" }))
        {
            var said = await Said(client, folder);
            Assert.True(said == missing, $"{folder} is answered otherwise than nothing: {said}");
        }
    }

    [Fact]
    public async Task What_tools_and_systems_leave_lying_about_is_answered_as_nothing()
    {
        using var client = service.Anonymous();
        var missing = await Said(client, "/nothing/of/this/name");
        string[] left =
        [
            "/.git/HEAD",
            "/.git/config",
            "/.gitignore",
            "/.svn/entries",
            "/.DS_Store",
            "/Thumbs.db",
            "/desktop.ini",
            "/.env",
            "/.htaccess",
            "/web.config",
            "/appsettings.json",
            "/appsettings.Development.json",
            "/packages.lock.json",
            "/package.json",
            "/tsconfig.json",
            "/Scripts/src/desk/desk.ts",
            "/node_modules/",
            "/BackHistory.Service.dll",
            "/BackHistory.Service.exe",
            "/BackHistory.Service.deps.json",
            "/BackHistory.Service.runtimeconfig.json",
            "/BackHistory.Service.staticwebassets.endpoints.json",
            "/BackHistory.Service.staticwebassets.runtime.json",
            "/BackHistory.Service.pdb",
            "/Program.cs",
            "/wwwroot/app.css",
            "/.local/keys/",
            "/keys/",
            "/mail/",
            "/archives/",
            "/postgres/",
            "/invented-practice",
            "/backup.zip",
            "/robots.txt~",
            "/server-status",
            "/trace.axd",
            "/swagger/index.html",
            "/_framework/",
            "/_content/",
            "/.well-known/",
            .. Files.SelectMany(f => new[] { f + ".map", f + "~", f + ".bak", f + "/inside" }),
        ];
        foreach (var path in left)
        {
            var said = await Said(client, path);
            Assert.True(said == missing, $"{path} is answered otherwise than nothing: {said}");
        }
    }

    /// <summary>A program of ours would tidy these addresses before they are sent; somebody who tries them writes them by hand.</summary>
    [Theory]
    [InlineData("/../appsettings.json")]
    [InlineData("/js/../../appsettings.json")]
    [InlineData("/js/..%2f..%2fBackHistory.Service.deps.json")]
    [InlineData("/js/%2e%2e/%2e%2e/BackHistory.Service.deps.json")]
    [InlineData("/js/..%5c..%5cBackHistory.Service.deps.json")]
    [InlineData("/js/....//....//BackHistory.Service.deps.json")]
    [InlineData("//etc/passwd")]
    [InlineData("/%2e%2e/%2e%2e/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("/app.css%00.json")]
    public async Task No_address_leads_out_of_what_is_served(string path)
    {
        using var socket = new TcpClient();
        await socket.ConnectAsync(service.Address.Host, service.Address.Port);
        await using var stream = socket.GetStream();
        await stream.WriteAsync(
            Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: {service.Address.Authority}\r\nConnection: close\r\n\r\n")
        );
        var answer = await new StreamReader(stream).ReadToEndAsync();
        Assert.Matches(@"^HTTP/1\.1 (400|404) ", answer);
        foreach (var inside in new[] { "runtimeTarget", "root:", "dependencies", "Logging" })
            Assert.DoesNotContain(inside, answer, StringComparison.Ordinal);
    }

    private static IEnumerable<string> FoldersOf(string file)
    {
        for (var at = file.LastIndexOf('/'); at > 0; at = file.LastIndexOf('/', at - 1))
            yield return file[..(at + 1)];
    }

    private static async Task<string> Said(HttpClient client, string path)
    {
        using var answer = await client.GetAsync(path);
        var headers = answer
            .Headers.Concat(answer.Content.Headers)
            .Where(h => h.Key != "Date")
            .OrderBy(h => h.Key, StringComparer.Ordinal)
            .Select(h => $"{h.Key}: {string.Join(',', h.Value)}");
        return Seal().Replace($"{answer.StatusCode}\n{string.Join('\n', headers)}\n{await answer.Content.ReadAsStringAsync()}", "");
    }

    [GeneratedRegex("CfDJ8[A-Za-z0-9_%-]+", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Seal();
}
