using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;

namespace BackHistory.Service.Tests;

/// <summary>Everything of the job that is no visit, over HTTP.</summary>
public sealed class CatalogueApiTests(RunningService service)
{
    [Fact]
    public async Task A_lay_off_is_noted_with_words_ended_and_stands_on_the_timeline_at_its_own_day()
    {
        using var client = service.Client();
        var horse = await client.Horse("Laid Off");
        var noted = await Made(
            client,
            $"/api/horses/{horse}/care",
            new
            {
                kind = "lay-off",
                from = "2026-01-10",
                words = "Kicked in the field.",
            }
        );
        await Done(client, HttpMethod.Post, $"/api/horses/{horse}/care/{noted}/end", new { until = "2026-03-01" });
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/care/{noted}/end", new { until = "2026-03-02" })).StatusCode
        );

        var care = await Eventually(
            client,
            $"/api/horses/{horse}/care",
            a => a.GetArrayLength() == 1 && a[0].TryGetProperty("until", out var until) && until.ValueKind == JsonValueKind.String
        );
        Assert.Equal("Kicked in the field.", care[0].GetProperty("words").GetString());
        Assert.Equal("2026-03-01", care[0].GetProperty("until").GetString());
        var timeline = await Eventually(
            client,
            $"/api/horses/{horse}/timeline",
            t => t.GetProperty("items").EnumerateArray().Count(i => i.GetProperty("group").GetString() != "reminder") == 3
        );
        var item = timeline.GetProperty("items").EnumerateArray().Single(i => i.GetProperty("kind").GetString() == "care_noted");
        Assert.StartsWith("2026-01-10", item.GetProperty("takenAt").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Owner_yard_work_and_parts_in_the_care_of_a_horse_are_recorded_and_refused_in_words()
    {
        using var client = service.Client();
        var (horse, owner, vet) = (
            await client.Horse("Cared For"),
            await service.Person(RunningService.Mine, "New Owner"),
            await service.Person(RunningService.Mine, "A Vet")
        );
        await Done(client, HttpMethod.Put, $"/api/horses/{horse}/owner", new { ownerId = owner });
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Put, $"/api/horses/{horse}/owner", new { ownerId = owner })).StatusCode
        );
        await Done(client, HttpMethod.Post, $"/api/horses/{horse}/care-roles", new { personId = vet, role = "veterinarian" });
        await Done(client, HttpMethod.Post, $"/api/horses/{horse}/care-roles/end", new { personId = vet, role = "veterinarian" });
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/care-roles/end", new { personId = vet, role = "groom" })).StatusCode
        );
        var span = await Made(
            client,
            $"/api/horses/{horse}/work",
            new
            {
                load = "hard",
                discipline = "eventing",
                hoursPerWeek = 7.5,
            }
        );
        await Done(client, HttpMethod.Post, $"/api/horses/{horse}/work/{span}/withdraw", new { reason = "Another horse." });
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/work/{span}/withdraw", new { reason = "Again." })).StatusCode
        );
        Assert.Equal(owner, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("ownerId").GetGuid());
    }

    [Fact]
    public async Task A_photograph_is_kept_once_however_often_it_is_attached_and_comes_back_as_it_went_in()
    {
        using var client = service.Client();
        var (one, two) = (await client.Horse("Seen One"), await client.Horse("Seen Two"));
        byte[] png = Picture.Png(4000, 3000, [.. Encoding.UTF8.GetBytes($"unlike any other {Guid.NewGuid()}"), .. new byte[2 << 20]]);
        var first = await Attach(client, $"/api/horses/{one}/files?kind=photograph", png);
        Assert.Equal(HttpStatusCode.Created, first.StatusCode);
        Assert.Equal(HttpStatusCode.Created, (await Attach(client, $"/api/horses/{two}/files?kind=photograph", png)).StatusCode);

        var files = await Eventually(client, $"/api/horses/{one}/files", f => f.GetArrayLength() == 1);
        var hash = files[0].GetProperty("file").GetProperty("contentHash").GetString()!;
        Assert.Equal("image/png", files[0].GetProperty("file").GetProperty("mediaType").GetString());
        var back = await client.GetAsync(first.Headers.Location!.ToString());
        Assert.Equal(png, await back.Content.ReadAsByteArrayAsync());
        Assert.Equal("attachment", back.Content.Headers.ContentDisposition!.DispositionType);
        await using var count = service.Database().CreateCommand("select count(*) from history.file_part where hash = $1");
        count.Parameters.Add(new Npgsql.NpgsqlParameter { Value = hash });
        Assert.Equal(3L, await count.ExecuteScalarAsync());

        using var stranger = service.Client(RunningService.Theirs);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync(first.Headers.Location!.ToString())).StatusCode);
        await Done(client, HttpMethod.Post, $"{first.Headers.Location}/remove", new { reason = "Out of focus." });
        await Eventually(client, $"/api/horses/{one}/files", f => f.GetArrayLength() == 0);
    }

    [Fact]
    public async Task What_is_no_photograph_and_no_document_is_refused_and_so_is_what_is_too_large()
    {
        using var client = service.Client();
        var horse = await client.Horse("Unseen");
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await Attach(client, $"/api/horses/{horse}/files?kind=photograph", [0x4D, 0x5A, 0x90, 0, 3])).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await Attach(client, $"/api/horses/{horse}/files?kind=photograph", [])).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await Attach(client, $"/api/horses/{horse}/files?kind=film", "text"u8.ToArray())).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await Attach(client, $"/api/horses/{horse}/files?kind=7", "text"u8.ToArray())).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.RequestEntityTooLarge,
            (await Attach(client, $"/api/horses/{horse}/files?kind=document", new byte[26 << 20])).StatusCode
        );
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
    }

    [Fact]
    public async Task A_saddle_is_flocked_padded_lent_moved_and_corrected()
    {
        using var client = service.Client();
        var (from, to) = (await client.Horse("Wears It"), await client.Horse("Tries It"));
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "4711" })).Json())
            .GetProperty("id")
            .GetGuid();
        await Done(
            client,
            HttpMethod.Put,
            $"/api/saddles/{saddle}/parts",
            new
            {
                parts = new[]
                {
                    new
                    {
                        part = "tree",
                        what = "bends cold, read with the workshop's gauge",
                        gauge = "own",
                    },
                },
            }
        );
        var work = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/saddles/{saddle}/work",
                    new
                    {
                        kind = "flocked",
                        horseId = from,
                        takenAt = "2026-05-01T10:00:00Z",
                        fresh = false,
                        flocking = new { material = "wool", whole = true },
                        done = new[]
                        {
                            new
                            {
                                part = "panel-front",
                                side = "left",
                                from = "soft",
                                to = "firm",
                            },
                        },
                    }
                )
            ).Json()
        ).GetProperty("workId").GetGuid();
        var pad = await Made(
            client,
            $"/api/saddles/{saddle}/pads",
            new
            {
                horseId = from,
                pad = "sheepskin half pad",
                shims = new[]
                {
                    new
                    {
                        place = "front",
                        side = "left",
                        thicknessMm = 6,
                    },
                },
            }
        );
        await Done(client, HttpMethod.Post, $"/api/saddles/{saddle}/pads/{pad}/remove", new { reason = "No longer needed." });
        var trial = await Made(client, $"/api/saddles/{saddle}/trials", new { horseId = to, until = "2099-01-01" });
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Post, $"/api/saddles/{saddle}/trials", new { horseId = to })).StatusCode
        );
        await Done(client, HttpMethod.Post, $"/api/saddles/{saddle}/trials/{trial}/end", new { kept = true });
        await Done(
            client,
            HttpMethod.Post,
            $"/api/saddles/{saddle}/work/{work}/correct",
            new
            {
                reason = "It was the other horse.",
                replacement = new
                {
                    kind = "altered",
                    horseId = to,
                    takenAt = "2026-05-01T10:00:00Z",
                    fresh = false,
                },
            }
        );
        Assert.Equal(
            HttpStatusCode.Conflict,
            (await client.Write(HttpMethod.Post, $"/api/saddles/{saddle}/move", new { fromHorseId = from, horseId = to })).StatusCode
        );
        await Done(
            client,
            HttpMethod.Post,
            $"/api/saddles/{saddle}/move",
            new
            {
                fromHorseId = to,
                horseId = from,
                reason = "Fits the other better.",
            }
        );

        // What the scheduled evaluation adds of its own, when it comes by, is another test's.
        string[] Kinds(JsonElement t) =>
            [
                .. t.GetProperty("items")
                    .EnumerateArray()
                    .Where(i => i.GetProperty("group").GetString() != "reminder")
                    .Select(i => i.GetProperty("kind").GetString()!)
                    .Order(StringComparer.Ordinal),
            ];
        var first = await Eventually(client, $"/api/horses/{from}/timeline", t => Kinds(t).Length == 6);
        Assert.Equal(
            ["horse_registered", "pad_fitted", "pad_removed", "saddle_flocked", "saddle_moved", "saddle_work_corrected"],
            Kinds(first)
        );
        var second = await Eventually(client, $"/api/horses/{to}/timeline", t => Kinds(t).Length == 5);
        Assert.Equal(["horse_registered", "saddle_altered", "saddle_moved", "saddle_trial_begun", "saddle_trial_ended"], Kinds(second));
    }

    [Fact]
    public async Task Protocol_gauges_and_studies_have_versions_and_a_gauge_that_turns_round_is_refused()
    {
        using var client = service.Client(RunningService.Theirs);
        await Done(
            client,
            HttpMethod.Put,
            "/api/practice/protocol",
            new { stations = new[] { new { key = "shoulder", where = "over the widest part" } } }
        );
        var marks = new[]
        {
            new
            {
                name = "1",
                position = 1.0,
                value = 30.0,
            },
            new
            {
                name = "2",
                position = 2.0,
                value = 34.0,
            },
        };
        await Done(
            client,
            HttpMethod.Put,
            "/api/practice/gauges/own",
            new
            {
                name = "Own gauge",
                measure = "slope",
                unit = "deg",
                marks,
                reason = "The workshop's table.",
            }
        );
        await Done(
            client,
            HttpMethod.Put,
            "/api/practice/gauges/own",
            new
            {
                name = "Own gauge",
                measure = "slope",
                unit = "deg",
                marks = new[]
                {
                    marks[0],
                    new
                    {
                        name = "2",
                        position = 2.0,
                        value = 35.0,
                    },
                },
                reason = "Measured again.",
            }
        );
        var turned = await client.Write(
            HttpMethod.Put,
            "/api/practice/gauges/other",
            new
            {
                name = "x",
                measure = "slope",
                unit = "deg",
                marks = new[]
                {
                    marks[0],
                    marks[1],
                    new
                    {
                        name = "3",
                        position = 3.0,
                        value = 20.0,
                    },
                },
                reason = "r",
            }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, turned.StatusCode);
        var study = await Made(
            client,
            "/api/practice/studies",
            new
            {
                measure = "slope-left",
                station = "behind-shoulder",
                method = "flexible-curve",
                subjects = new[] { new[] { 31.0, 31.8 }, new[] { 28.4, 28.1 } },
            }
        );

        var practice = await client.GetFromJson("/api/practice");
        Assert.Equal(2, practice.GetProperty("protocolVersion").GetInt32());
        Assert.Equal(2, practice.GetProperty("gauges").GetProperty("own").GetProperty("version").GetInt32());
        Assert.True(practice.GetProperty("studies").TryGetProperty(study.ToString(), out _));
        await Done(client, HttpMethod.Post, $"/api/practice/studies/{study}/withdraw", new { reason = "Wrong horse." });
        await Done(client, HttpMethod.Post, "/api/practice/gauges/own/retire", new { reason = "Sold." });
    }

    private static async Task Done(HttpClient client, HttpMethod method, string path, object body)
    {
        var response = await client.Write(method, path, body);
        Assert.True(response.IsSuccessStatusCode, $"{path}: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
    }

    private static async Task<Guid> Made(HttpClient client, string path, object body)
    {
        var response = await client.Write(HttpMethod.Post, path, body);
        Assert.True(
            response.StatusCode == HttpStatusCode.Created,
            $"{path}: {response.StatusCode} {await response.Content.ReadAsStringAsync()}"
        );
        return (await response.Json()).GetProperty("made").GetGuid();
    }

    private static async Task<HttpResponseMessage> Attach(HttpClient client, string path, byte[] bytes)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new ByteArrayContent(bytes) };
        request.Headers.ExpectContinue = bytes.Length > 25 << 20;
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        return await client.SendAsync(request);
    }

    private static async Task<JsonElement> Eventually(HttpClient client, string path, Func<JsonElement, bool> good)
    {
        for (var i = 0; ; i++)
        {
            // A read model may not have heard of it yet.
            using var response = await client.GetAsync(path);
            if (response.IsSuccessStatusCode && await response.Json() is var answer && good(answer))
                return answer;
            Assert.True(i < 400, $"{path} never became so: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
            await Task.Delay(50);
        }
    }
}
