using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using BackHistory.Store.Accounts;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Access;

/// <summary>What a browser is told not to do, and what is refused before anything is done.</summary>
public sealed partial class HeaderTests(RunningService service)
{
    private static readonly string[] Pages =
    [
        "/",
        "/reminders",
        "/me",
        "/me/keys",
        "/me/sessions",
        "/me/second-factor",
        "/practice/members",
        "/practice/audit",
        "/practice/audit?show=changed",
        "/shared-with-me",
        "/sign-in",
        "/forgotten",
        "/look/nothing",
        "/nothing-here",
    ];

    [Fact]
    public async Task No_answer_leads_to_the_host_that_a_request_names()
    {
        using var browser = await service.SignedIn(await service.Member("Led To Another Host", (RunningService.Mine, PracticeRole.Fitter)));
        using var nobody = new Browser(service.Address);
        var led = 0;
        foreach (var (who, page) in Pages.Concat(["/horses", "/jobs", "/practice"]).SelectMany(p => new[] { (nobody, p), (browser, p) }))
        foreach (var forged in new[] { "evil.example", "evil.example:8443", "127.0.0.1.evil.example" })
        {
            using var asked = new HttpRequestMessage(HttpMethod.Get, page);
            asked.Headers.Host = forged;
            asked.Headers.Add("X-Forwarded-Host", forged);
            asked.Headers.Add("X-Forwarded-Proto", "gopher");
            using var answer = await who.Client.SendAsync(asked);
            if (answer.Headers.Location is not { } location)
                continue;
            led++;
            Assert.True(!location.IsAbsoluteUri && location.OriginalString.StartsWith('/'), $"{page} leads to {location}");
            Assert.False(location.OriginalString.StartsWith("//", StringComparison.Ordinal), $"{page} leads to {location}");
        }

        Assert.True(led > 20, $"only {led} led anywhere");
    }

    [Fact]
    public async Task No_page_carries_a_script_or_a_style_of_its_own_and_the_policy_allows_none()
    {
        using var browser = await service.SignedIn(await service.Member("Page Walker", (RunningService.Mine, PracticeRole.Administrator)));
        var horse = await browser.Client.Horse("Walked Horse");
        await browser.Until($"/horses/{horse}", "Walked Horse");
        foreach (var page in Pages.Concat([$"/horses/{horse}", $"/horses/{horse}/share", $"/horses/{horse}/visits/new"]))
        {
            var answer = await browser.Get(page);
            var policy = answer.Headers.GetValues("Content-Security-Policy").Single();
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            foreach (
                var part in new[]
                {
                    "default-src 'self'",
                    "script-src 'self'",
                    "object-src 'none'",
                    "base-uri 'none'",
                    "frame-ancestors 'none'",
                    "form-action 'self'",
                }
            )
                Assert.Contains(part, policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
            Assert.Equal("DENY", answer.Headers.GetValues("X-Frame-Options").Single());
            Assert.Equal("same-origin", answer.Headers.GetValues("Cross-Origin-Opener-Policy").Single());
            Assert.Contains("no-store", answer.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
            Assert.False(answer.Headers.Contains("Server"), "whose server it is, is nobody's business");
            var html = await answer.Content.ReadAsStringAsync();
            Assert.Empty(Inline().Matches(html).Select(m => $"{page}: {m.Value}"));
        }
    }

    [Fact]
    public async Task Cookies_are_out_of_reach_of_scripts_and_other_sites_and_over_https_bound_to_this_host()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-https-");
        try
        {
            await using var host = await ServedHost.Start(
                await TestServer.NewDatabase(),
                state.FullName,
                s => s with { PublicUrl = new Uri("https://fits.invalid") },
                "secure"
            );
            using var client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false })
            {
                BaseAddress = host.Address,
            };
            // As a proxy that ends the encryption passes it on, the service itself hears plain http; the cookie must not care.
            var form = await client.GetAsync("/sign-in");
            var cookies = form.Headers.GetValues("Set-Cookie").ToList();
            Assert.NotEmpty(cookies);
            Assert.All(
                cookies,
                c =>
                {
                    Assert.StartsWith("__Host-", c, StringComparison.Ordinal);
                    foreach (var mark in new[] { "secure", "httponly", "samesite=", "path=/" })
                        Assert.Contains(mark, c, StringComparison.OrdinalIgnoreCase);
                }
            );
            Assert.Contains("max-age=", form.Headers.GetValues("Strict-Transport-Security").Single(), StringComparison.Ordinal);
        }
        finally
        {
            state.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task A_form_without_its_token_changes_nothing()
    {
        var member = await service.Member("Forged", (RunningService.Mine, PracticeRole.Administrator));
        using var browser = await service.SignedIn(member);
        foreach (var action in new[] { "/practice/members/invite", "/me/practice", "/sign-out", "/me/keys" })
        {
            var answer = await browser.Client.PostAsync(
                action,
                new FormUrlEncodedContent([
                    new("name", "x"),
                    new("email", "x@forged.invalid"),
                    new("role", "Administrator"),
                    new("label", "x"),
                    new("most", "ReadOnly"),
                    new("days", "3"),
                ])
            );
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        }

        Assert.DoesNotContain("x@forged.invalid", await browser.Page("/practice/members"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_sites_page_cannot_make_a_signed_in_browser_change_anything()
    {
        using var browser = await service.SignedIn(await service.Member("Crossed", (RunningService.Mine, PracticeRole.Fitter)));
        foreach (var site in new[] { "cross-site", "same-site" })
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, "/api/horses")
            {
                Content = new StringContent("""{"name":"Crossed In"}""", Encoding.UTF8, "application/json"),
            };
            request.Headers.TryAddWithoutValidation("Sec-Fetch-Site", site);
            request.Headers.TryAddWithoutValidation("Idempotency-Key", $"crossed {site}");
            Assert.Equal(HttpStatusCode.Forbidden, (await browser.Client.SendAsync(request)).StatusCode);
        }

        Assert.DoesNotContain("Crossed In", await browser.Page("/api/horses?limit=200"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/api/horses")]
    [InlineData("/api/measure")]
    [InlineData("/api/people")]
    public async Task A_body_that_is_too_large_is_refused_before_it_is_read(string path)
    {
        using var client = service.Client();
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(new byte[9 << 20]) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", "large");
        request.Headers.ExpectContinue = true;
        var answer = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task A_file_is_sent_back_as_a_file_and_never_as_a_page()
    {
        using var client = service.Client();
        var horse = await client.Horse("Filed Horse");
        using var html = new ByteArrayContent("<html><script>alert(1)</script></html>"u8.ToArray());
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/api/horses/{horse}/files?kind=document") { Content = html };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", "a page as a file");
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        var answer = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        var got = await client.GetAsync(answer.Headers.Location);
        for (var i = 0; i < 300 && got.StatusCode == HttpStatusCode.NotFound; i++)
        {
            await Task.Delay(100);
            got = await client.GetAsync(answer.Headers.Location);
        }

        Assert.Equal("text/plain", got.Content.Headers.ContentType?.MediaType);
        Assert.Equal("attachment", got.Content.Headers.ContentDisposition?.DispositionType);
    }

    [Fact]
    public async Task No_secret_that_passed_through_the_service_stands_in_its_log()
    {
        var member = await service.Member("Logged", (RunningService.Mine, PracticeRole.Manager));
        using var browser = await service.SignedIn(member);
        using var client = service.Client();
        var horse = await client.Horse("Logged Horse", await service.Person(RunningService.Mine, "Logged Owner"));
        var link = new Uri(
            (await (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "owner" })).Json())
                .GetProperty("url")
                .GetString()!
        ).AbsolutePath;
        await browser.Page(link);
        await browser.Get(link[..^5] + "AAAAA");
        var key = (
            await (
                await browser.Client.Write(
                    HttpMethod.Post,
                    "/api/me/keys",
                    new
                    {
                        label = "logged",
                        most = "read-only",
                        days = 3,
                    }
                )
            ).Json()
        ).GetProperty("key").GetString()!;
        using var program = service.Anonymous();
        program.DefaultRequestHeaders.Authorization = new System.Net.Http.Headers.AuthenticationHeaderValue("Bearer", key);
        await program.GetAsync("/api/horses");
        await program.GetAsync("/api/horses/not-a-horse");
        await browser.Send("/forgotten", "/forgotten", ("email", member.Email));
        using var wrong = service.Browser();
        await wrong.Send("/sign-in", "/sign-in", ("email", member.Email), ("password", "a secret that was mistyped"));

        Assert.NotEmpty(service.Said);
        var cookie = browser.Cookies.GetCookies(service.Address).First(c => c.Name == "backhistory").Value;
        foreach (
            var secret in new[]
            {
                RunningService.Password,
                "a secret that was mistyped",
                key,
                link["/look/".Length..],
                cookie,
                RunningService.KeyOf(client),
                "Logged Owner",
                member.Email,
            }
        )
            Assert.DoesNotContain(service.Said, line => line.Contains(secret, StringComparison.OrdinalIgnoreCase));
    }

    [GeneratedRegex("<script(?![^>]*src=)[^>]*>|<style|\\son[a-z]+=\"|\\sstyle=\"|javascript:", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Inline();
}
