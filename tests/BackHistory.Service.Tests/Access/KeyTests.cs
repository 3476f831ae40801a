using System.Net;
using System.Net.Http.Headers;
using BackHistory.Store.Accounts;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>Keys for programs: made by a person, scoped, kept as a hash, with an end, and with their last use shown.</summary>
public sealed class KeyTests(RunningService service)
{
    [Fact]
    public async Task A_key_is_shown_once_kept_as_a_hash_and_does_no_more_than_it_was_made_for()
    {
        using var browser = await service.SignedIn(await service.Member("Key Owner", (RunningService.Mine, PracticeRole.Fitter)));
        var made = await browser.Client.Write(
            HttpMethod.Post,
            "/api/me/keys",
            new
            {
                label = "export at night",
                most = "read-only",
                days = 30,
            }
        );
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var answer = await made.Json();
        var (id, key) = (answer.GetProperty("id").GetString()!, answer.GetProperty("key").GetString()!);
        Assert.Equal(AccessKey.HashOf(key), id);
        Assert.DoesNotContain(key, await browser.Page("/api/me/keys"), StringComparison.Ordinal);

        using var program = Program(key);
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await program.Write(HttpMethod.Post, "/api/horses", new { name = "x" })).StatusCode);
        // A key makes no keys, and does not open its owner's account.
        foreach (var path in new[] { "/api/me/keys", "/me", "/me/sessions", "/me/keys" })
            Assert.NotEqual(HttpStatusCode.OK, (await program.GetAsync(path)).StatusCode);
        Assert.NotEqual(
            HttpStatusCode.Created,
            (
                await program.Write(
                    HttpMethod.Post,
                    "/api/me/keys",
                    new
                    {
                        label = "more",
                        most = "read-only",
                        days = 3,
                    }
                )
            ).StatusCode
        );

        var listed = (await (await browser.Get("/api/me/keys")).Json())[0];
        Assert.True(listed.TryGetProperty("lastUsed", out _), "its last use is shown");
        Assert.Contains("last used", await browser.Page("/me/keys"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NoContent, (await browser.Client.DeleteAsync($"/api/me/keys/{id}")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task A_key_may_do_no_more_than_its_owner_and_never_administers()
    {
        using var browser = await service.SignedIn(await service.Member("Modest Fitter", (RunningService.Mine, PracticeRole.Fitter)));
        foreach (var most in new[] { "manager", "administrator" })
            Assert.Equal("too-much", (
                    await (
                        await browser.Client.Write(
                            HttpMethod.Post,
                            "/api/me/keys",
                            new
                            {
                                label = "too much",
                                most,
                                days = 3,
                            }
                        )
                    ).Json()
                ).GetProperty("code").GetString());
        Assert.Equal("bad-days", (
                await (
                    await browser.Client.Write(
                        HttpMethod.Post,
                        "/api/me/keys",
                        new
                        {
                            label = "for ever",
                            most = "fitter",
                            days = 366,
                        }
                    )
                ).Json()
            ).GetProperty("code").GetString());

        var demoted = await service.Member("Demoted Manager", (RunningService.Mine, PracticeRole.Manager));
        using var program = await service.Client(demoted, RunningService.Mine, PracticeRole.Manager);
        var horse = await program.Horse("Managed");
        Assert.Equal(
            HttpStatusCode.Created,
            (await program.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "rider" })).StatusCode
        );
        await service
            .Services.GetRequiredService<AccountDocuments>()
            .Change(
                demoted.AccountId,
                a => a.Memberships = a.Memberships.ConvertAll(m => m with { Role = PracticeRole.ReadOnly }),
                CancellationToken.None
            );
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (await program.Write(HttpMethod.Post, $"/api/horses/{horse}/sharing/links", new { role = "rider" })).StatusCode
        );
    }

    [Fact]
    public async Task A_key_that_is_over_one_that_was_altered_and_one_that_never_was_are_told_the_same()
    {
        var member = await service.Member("Expired Key", (RunningService.Mine, PracticeRole.Fitter));
        using var over = await service.Client(member, RunningService.Mine, until: TestClock.Running.GetUtcNow().AddMinutes(-1));
        using var altered = Program(RunningService.KeyOf(service.Client())[..^1] + "z");
        using var invented = Program(AccessKey.Make());
        var answers = new HashSet<string>(StringComparer.Ordinal);
        foreach (var client in new[] { over, altered, invented })
        {
            var answer = await client.GetAsync("/api/horses");
            Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
            var said = await answer.Json();
            answers.Add(
                string.Join(' ', said.EnumerateObject().Where(p => p.Name != "traceId").Select(p => p.Value))
                    + answer.Headers.WwwAuthenticate
            );
        }

        Assert.Contains("has expired. Sign in, or make a new key under your account.", Assert.Single(answers), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_for_one_practice_opens_no_other_of_its_owners()
    {
        var member = await service.Member(
            "Two Keys",
            (RunningService.Mine, PracticeRole.Manager),
            (RunningService.Theirs, PracticeRole.Manager)
        );
        using var there = service.Client(RunningService.Theirs);
        var horse = await there.Horse("Behind Another Key");
        using var mine = await service.Client(member, RunningService.Mine);
        using var theirs = await service.Client(member, RunningService.Theirs);
        Assert.Equal(HttpStatusCode.NotFound, (await mine.GetAsync($"/api/horses/{horse}")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await theirs.GetAsync($"/api/horses/{horse}")).StatusCode);
    }

    private HttpClient Program(string key)
    {
        var client = service.Anonymous();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return client;
    }
}
