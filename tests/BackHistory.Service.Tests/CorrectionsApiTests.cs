using System.Globalization;
using System.Net;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>Merging, looking back and building anew, over HTTP.</summary>
public sealed class CorrectionsApiTests(RunningService service)
{
    [Fact]
    public async Task A_horse_registered_twice_is_merged_and_the_same_request_again_does_nothing_more()
    {
        using var client = service.Client();
        var (stays, twice) = (await client.Horse("Merged Stays"), await client.Horse("Merged Goes"));
        Assert.True(
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{twice}/visits",
                    new
                    {
                        takenAt = "2026-05-01T10:00:00Z",
                        method = "flexible-curve",
                        entries = new[] { ClientExtensions.Section(45, 44) },
                    }
                )
            ).IsSuccessStatusCode
        );
        var key = Guid.NewGuid().ToString();
        var first = await client.Write(HttpMethod.Post, $"/api/horses/{twice}/merge", new { intoId = stays, reason = "One horse." }, key);
        Assert.True(first.IsSuccessStatusCode, await first.Content.ReadAsStringAsync());
        Assert.True(
            (
                await client.Write(HttpMethod.Post, $"/api/horses/{twice}/merge", new { intoId = stays, reason = "One horse." }, key)
            ).IsSuccessStatusCode
        );
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{stays}")).GetProperty("visits").GetInt32());
        Assert.Equal(
            HttpStatusCode.Conflict,
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{twice}/visits",
                    new { takenAt = "2026-05-02T10:00:00Z", method = "flexible-curve" }
                )
            ).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.NotFound,
            (
                await client.Write(HttpMethod.Post, $"/api/horses/{Guid.NewGuid()}/merge", new { intoId = stays, reason = "One horse." })
            ).StatusCode
        );
    }

    [Fact]
    public async Task A_horse_that_was_merged_away_says_so_and_in_which_horse_its_history_goes_on()
    {
        using var client = service.Client();
        var (first, second, stays) = (
            await client.Horse("Goes First"),
            await client.Horse("Goes Second"),
            await client.Horse("Goes On In")
        );
        foreach (var (from, into) in new[] { (first, second), (second, stays) })
        {
            var merged = await client.Write(HttpMethod.Post, $"/api/horses/{from}/merge", new { intoId = into, reason = "One horse." });
            Assert.True(merged.IsSuccessStatusCode, await merged.Content.ReadAsStringAsync());
        }

        // Of two merges one after the other, the one that stays.
        foreach (var gone in new[] { first, second })
        {
            var answer = await client.GetFromJson($"/api/horses/{gone}");
            Assert.Equal(stays, answer.GetProperty("mergedInto").GetGuid());
            Assert.Contains(
                $"Its history goes on in <a class=\"step\" href=\"/horses/{stays}\">Goes On In</a>",
                await Page(client, $"/horses/{gone}", "registered twice"),
                StringComparison.Ordinal
            );
            await Page(client, $"/horses/{gone}", "This was a second registration of the same horse: One horse.");
        }

        var taken = await client.GetStringAsync($"/horses/{stays}");
        foreach (var (gone, name) in new[] { (first, "Goes First"), (second, "Goes Second") })
            Assert.Contains(
                $"A second registration, <a class=\"step\" href=\"/horses/{gone}\">{name}</a>",
                taken,
                StringComparison.Ordinal
            );

        var standing = await client.GetFromJson($"/api/horses/{stays}");
        Assert.False(standing.TryGetProperty("mergedInto", out var into1) && into1.ValueKind != JsonValueKind.Null);
        Assert.DoesNotContain("registered twice", await client.GetStringAsync($"/horses/{stays}"), StringComparison.Ordinal);
    }

    /// <summary>Pages are of read models, which follow a moment later.</summary>
    private static async Task<string> Page(HttpClient client, string path, string words)
    {
        for (var i = 0; i < 3000; i++)
        {
            var answer = await client.GetAsync(path);
            var page = await answer.Content.ReadAsStringAsync();
            if (answer.IsSuccessStatusCode && page.Contains(words, StringComparison.Ordinal))
                return page;
            await Task.Delay(100);
        }

        throw new InvalidOperationException($"'{words}' did not come up on {path} in five minutes");
    }

    [Fact]
    public async Task An_id_of_zeros_and_one_that_was_left_out_are_told_as_what_is_not_there()
    {
        using var client = service.Client();
        var horse = await client.Horse("Merged Into Nothing");
        foreach (var nothing in new object[] { new { reason = "One horse." }, new { intoId = Guid.Empty, reason = "One horse." } })
        {
            var answer = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/merge", nothing);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Contains("no such horse", await answer.Content.ReadAsStringAsync(), StringComparison.OrdinalIgnoreCase);
        }

        var visit = new { takenAt = "2026-05-01T10:00:00Z", method = "flexible-curve" };
        foreach (
            var (path, body) in new (string, object)[]
            {
                ("merge", new { intoId = horse, reason = "One horse." }),
                ($"visits/{Guid.Empty}/merge", new { intoVisitId = Guid.Empty, reason = "One visit." }),
                ("visits", visit),
                ("withdraw", new { reason = "By mistake." }),
            }
        )
        {
            Assert.Equal(
                HttpStatusCode.NotFound,
                (await client.Write(HttpMethod.Post, $"/api/horses/{Guid.Empty}/{path}", body)).StatusCode
            );
        }

        Assert.True((await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit)).IsSuccessStatusCode);
    }

    [Fact]
    public async Task Two_horses_that_are_merged_into_each_other_at_once_are_one_horse_and_one_of_the_two_is_told_that_it_came_too_late()
    {
        using var client = service.Client();
        for (var round = 0; round < 12; round++)
        {
            var (one, other) = (await client.Horse($"Crosswise One {round}"), await client.Horse($"Crosswise Other {round}"));
            foreach (var horse in new[] { one, other })
            {
                var visit = new
                {
                    takenAt = "2026-05-01T10:00:00Z",
                    method = "flexible-curve",
                    entries = new[] { new { kind = "condition", score = 5.5 } },
                };
                Assert.True((await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit)).IsSuccessStatusCode);
            }

            var answers = await Task.WhenAll(
                client.Write(HttpMethod.Post, $"/api/horses/{one}/merge", new { intoId = other, reason = "One horse." }),
                client.Write(HttpMethod.Post, $"/api/horses/{other}/merge", new { intoId = one, reason = "One horse." })
            );
            Assert.Equal([HttpStatusCode.OK, HttpStatusCode.Conflict], answers.Select(a => a.StatusCode).Order());
            var stays = (await answers.Single(a => a.IsSuccessStatusCode).Json()).GetProperty("id").GetGuid();
            Assert.Equal(2, (await client.GetFromJson($"/api/horses/{stays}")).GetProperty("visits").GetInt32());
            Assert.True(
                (
                    await client.Write(
                        HttpMethod.Post,
                        $"/api/horses/{stays}/visits",
                        new { takenAt = "2026-05-02T10:00:00Z", method = "flexible-curve" }
                    )
                ).IsSuccessStatusCode
            );
        }
    }

    [Fact]
    public async Task A_visit_entered_twice_is_merged()
    {
        using var client = service.Client();
        var horse = await client.Horse("Visited Twice");
        async Task<Guid> Visit(object entry) => (
                await (
                    await client.Write(
                        HttpMethod.Post,
                        $"/api/horses/{horse}/visits",
                        new
                        {
                            takenAt = "2026-05-01T10:00:00Z",
                            method = "flexible-curve",
                            entries = new[] { entry },
                        }
                    )
                ).Json()
            ).GetProperty("visitId").GetGuid();
        var (stays, twice) = (await Visit(ClientExtensions.Section(45, 44)), await Visit(new { kind = "condition", score = 5.5 }));
        Assert.True(
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/horses/{horse}/visits/{twice}/merge",
                    new { intoVisitId = stays, reason = "Entered on two telephones." }
                )
            ).IsSuccessStatusCode
        );
        await Eventually(client, $"/api/horses/{horse}/visits/{stays}", v => v.GetProperty("entries").GetArrayLength() == 2);
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits/{twice}/withdraw", new { reason = "Again." })).StatusCode
        );
    }

    [Fact]
    public async Task What_was_known_yesterday_is_nothing_of_a_horse_registered_today()
    {
        using var client = service.Client();
        var horse = await client.Horse("Known Today");
        await Eventually(client, $"/api/horses/{horse}/timeline", t => t.GetProperty("items").GetArrayLength() == 1);
        string Day(int days) => TestClock.Running.GetUtcNow().AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var known = await client.GetFromJson($"/api/horses/{horse}/known?at={Day(1)}");
        Assert.Equal("Known Today", known.GetProperty("profile").GetProperty("name").GetString());
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/api/horses/{horse}/known?at={Day(-1)}")).StatusCode);
        foreach (var at in new[] { "", "3 March", "2026-02-31", "2026-03-03T18:00" })
            Assert.Equal(HttpStatusCode.UnprocessableEntity, (await client.GetAsync($"/api/horses/{horse}/known?at={at}")).StatusCode);
        using var stranger = service.Client(RunningService.Theirs);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync($"/api/horses/{horse}/known?at={Day(1)}")).StatusCode);
    }

    [Fact]
    public async Task What_is_read_says_how_far_it_is_behind_and_is_built_anew_in_the_background()
    {
        using var client = service.Client(RunningService.Theirs);
        await client.Horse("Built Anew");
        var models = (await client.GetFromJson("/api/read-models"))
            .GetProperty("models")
            .EnumerateArray()
            .Select(m => m.GetProperty("name").GetString())
            .ToList();
        Assert.Contains("Timeline", models);
        Assert.Equal(HttpStatusCode.Accepted, (await client.Write(HttpMethod.Post, "/api/read-models/rebuild", new { })).StatusCode);
        var run = await Eventually(
            client,
            "/api/read-models",
            a =>
                a.TryGetProperty("rebuild", out var r)
                && r.ValueKind == JsonValueKind.Object
                && r.TryGetProperty("finishedAt", out var at)
                && at.ValueKind == JsonValueKind.String
        );
        Assert.Equal(
            run.GetProperty("rebuild").GetProperty("horses").GetInt32(),
            run.GetProperty("rebuild").GetProperty("done").GetInt32()
        );
    }

    private static async Task<JsonElement> Eventually(HttpClient client, string path, Func<JsonElement, bool> good)
    {
        for (var i = 0; ; i++)
        {
            using var response = await client.GetAsync(path);
            if (response.IsSuccessStatusCode && await response.Json() is var answer && good(answer))
                return answer;
            Assert.True(i < 400, $"{path} never became so: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
            await Task.Delay(50);
        }
    }
}
