using System.Globalization;
using System.Net;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

public sealed class VisitApiTests(RunningService service)
{
    [Fact]
    public async Task A_visit_answers_at_once_with_the_measures_of_its_tracings()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00+02:00",
                method = "flexible-curve",
                conditions = new { stoodSquare = true },
                entries = new object[]
                {
                    ClientExtensions.Section(45, 41),
                    new
                    {
                        kind = "reading",
                        measure = "read-slope-left",
                        station = "behind-shoulder",
                        value = 44,
                    },
                    new { kind = "condition", score = 5.5 },
                    new
                    {
                        kind = "muscle",
                        site = "back",
                        score = 1.5,
                    },
                    new
                    {
                        kind = "girth",
                        girth = 180,
                        length = 160,
                        unit = "cm",
                    },
                },
            }
        );

        Assert.Equal(HttpStatusCode.Created, response.StatusCode);
        Assert.Equal("\"7\"", response.Headers.ETag!.ToString());
        var body = await response.Json();
        var measures = body.GetProperty("entries")[0]
            .GetProperty("measures")
            .EnumerateArray()
            .ToDictionary(m => m.GetProperty("key").GetString()!, m => m.GetProperty("value"));
        Assert.Equal(45, measures["slope-left"].GetDouble(), 0.5);
        Assert.Equal(41, measures["slope-right"].GetDouble(), 0.5);

        var known = await Eventually(() => client.GetFromJson($"/api/horses/{horse}/measures?key=weight"), m => m.GetArrayLength() > 0);
        // 180 cm and 160 cm: 435.630 kg by the paper's mean divisor 11 900 (Carroll & Huntington 1988, computed).
        Assert.Equal(435.630, known[0].GetProperty("value").GetDouble(), 0.001);
    }

    [Fact]
    public async Task The_same_request_repeated_gives_the_same_answer_and_one_visit()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var visit = new
        {
            takenAt = "2026-06-12T10:00:00Z",
            method = "flexible-curve",
            entries = new object[] { ClientExtensions.Section(45, 45) },
        };
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 20).Select(_ => client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit, key: $"once-{horse}"))
        );

        Assert.All(answers, a => Assert.Equal(HttpStatusCode.Created, a.StatusCode));
        var bodies = await Task.WhenAll(answers.Select(a => a.Content.ReadAsStringAsync()));
        Assert.Single(bodies.Distinct(StringComparer.Ordinal));
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("visits").GetInt32());
    }

    [Fact]
    public async Task A_version_that_has_passed_is_refused_and_the_present_one_is_accepted()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var details = new { name = "Renamed", reason = "typing" };
        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Put, $"/api/horses/{horse}", details, ifMatch: "\"1\"")).StatusCode);
        var stale = await client.Write(HttpMethod.Put, $"/api/horses/{horse}", details, ifMatch: "\"1\"");
        Assert.Equal(HttpStatusCode.PreconditionFailed, stale.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Put, $"/api/horses/{horse}", details, ifMatch: "\"2\"")).StatusCode);
    }

    [Fact]
    public async Task A_tracing_comes_as_a_table_too()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var visit = await Visit(client, horse);
        var table =
            "x_mm,y_mm\n"
            + string.Join('\n', Backs.Section(50, 50).Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X},{p.Y}")));
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit}/tracings?station=mid-back&noise=0",
            table,
            type: "text/csv"
        );
        Assert.Equal(HttpStatusCode.Created, response.StatusCode);
        var measures = (await response.Json()).GetProperty("entries")[0].GetProperty("measures").EnumerateArray();
        Assert.Equal(50, measures.Single(m => m.GetProperty("key").GetString() == "slope-left").GetProperty("value").GetDouble(), 0.5);
    }

    public static TheoryData<string, string, HttpStatusCode, string> BadVisits =>
        new()
        {
            {
                "a date in the future",
                """{"takenAt":"2099-01-01T10:00:00Z","method":"m","entries":[]}""",
                HttpStatusCode.UnprocessableEntity,
                "in-the-future"
            },
            {
                "a date before the horse was born",
                """{"takenAt":"2014-01-01T10:00:00Z","method":"m","entries":[]}""",
                HttpStatusCode.UnprocessableEntity,
                "before-birth"
            },
            { "no JSON", "{", HttpStatusCode.UnprocessableEntity, "unreadable" },
            {
                "an unknown field",
                """{"takenAt":"2026-06-12T10:00:00Z","method":"m","entrys":[]}""",
                HttpStatusCode.UnprocessableEntity,
                "unreadable"
            },
            { "a date that is none", """{"takenAt":"12.6.2026","method":"m"}""", HttpStatusCode.UnprocessableEntity, "unreadable" },
            {
                "an unknown kind",
                """{"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"saddle"}]}""",
                HttpStatusCode.UnprocessableEntity,
                "unknown-kind"
            },
            {
                "feet",
                """
                    {"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"cross-section","station":"s","unit":"ft",
                    "yAxis":"up","points":[[0,0]]}]}
                    """,
                HttpStatusCode.UnprocessableEntity,
                "unknown-unit"
            },
            {
                "not a number",
                """
                    {"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"cross-section","station":"s","unit":"mm",
                    "yAxis":"up","points":[[NaN,0]]}]}
                    """,
                HttpStatusCode.UnprocessableEntity,
                "unreadable"
            },
            {
                "null for a number",
                """
                    {"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"cross-section","station":"s","unit":"mm",
                    "yAxis":"up","points":[[null,0]]}]}
                    """,
                HttpStatusCode.UnprocessableEntity,
                "not-finite"
            },
            {
                "a slope of 170°",
                """
                    {"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"reading","measure":"read-slope-left","station":"s",
                    "value":170}]}
                    """,
                HttpStatusCode.UnprocessableEntity,
                "implausible-reading"
            },
            {
                "a condition of 10",
                """{"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"condition","score":10}]}""",
                HttpStatusCode.UnprocessableEntity,
                "condition-scale"
            },
            {
                "stones",
                """{"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"weight","value":80,"unit":"st"}]}""",
                HttpStatusCode.UnprocessableEntity,
                "unknown-unit"
            },
            {
                "5 kg",
                """{"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{"kind":"weight","value":5,"unit":"kg"}]}""",
                HttpStatusCode.UnprocessableEntity,
                "implausible-weight"
            },
        };

    [Theory]
    [MemberData(nameof(BadVisits))]
    public async Task A_bad_visit_is_refused_with_a_reason_and_nothing_is_half_written(
        string what,
        string body,
        HttpStatusCode status,
        string code
    )
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var response = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", body);

        Assert.True(response.StatusCode == status, $"{what}: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
        Assert.Equal("application/problem+json", response.Content.Headers.ContentType!.MediaType);
        var problem = await response.Json();
        Assert.Equal(code, problem.GetProperty("code").GetString());
        Assert.NotEqual("", problem.GetProperty("detail").GetString());
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
    }

    [Fact]
    public async Task A_tracing_of_a_picture_keeps_how_the_picture_became_millimetres()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var picture = new string('a', 64);
        var scale = new
        {
            width = 4000,
            height = 3000,
            known = new[]
            {
                new { at = new[] { 100.5, 200 }, mm = new[] { 0, 0 } },
                new { at = new[] { 3900, 200.5 }, mm = new[] { 390, 0 } },
                new { at = new[] { 100.0, 2900 }, mm = new[] { 0, 270 } },
            },
            residual = 0.63,
            picture,
        };
        Assert.Equal(
            HttpStatusCode.Created,
            (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", Traced(scale))).StatusCode
        );

        var visits = await Eventually(() => client.GetFromJson($"/api/horses/{horse}/visits"), v => v.GetArrayLength() > 0);
        var kept = visits[0].GetProperty("entries")[0].GetProperty("calibration");
        Assert.True(JsonElement.DeepEquals(JsonSerializer.SerializeToElement(scale), kept), kept.GetRawText());
        await Eventually(
            () => client.GetFromJson($"/api/horses/{horse}/timeline"),
            t => t.GetRawText().Contains("from a picture with 3 known points that lie within 0.6 mm", StringComparison.Ordinal)
        );
    }

    public static TheoryData<string, string, string> BadScales =>
        new()
        {
            { "one known point", """{"width":800,"height":600,"known":[{"at":[1,1],"mm":[0,0]}]}""", "calibration" },
            {
                "a point beside the picture",
                """{"width":800,"height":600,"known":[{"at":[1,1],"mm":[0,0]},{"at":[801,1],"mm":[9,0]}]}""",
                "calibration"
            },
            {
                "a point a mile away",
                """{"width":800,"height":600,"known":[{"at":[1,1],"mm":[0,0]},{"at":[8,1],"mm":[1609344,0]}]}""",
                "calibration"
            },
            { "no picture", """{"width":0,"height":600,"known":[{"at":[0,1],"mm":[0,0]},{"at":[0,2],"mm":[9,0]}]}""", "calibration" },
            {
                "a residual below nothing",
                """{"width":800,"height":600,"known":[{"at":[0,1],"mm":[0,0]},{"at":[0,2],"mm":[9,0]}],"residual":-1}""",
                "calibration"
            },
            {
                "a path for a picture",
                """{"width":800,"height":600,"known":[{"at":[0,1],"mm":[0,0]},{"at":[0,2],"mm":[9,0]}],"picture":"../etc/passwd"}""",
                "calibration"
            },
            { "nothing among the points", """{"width":800,"height":600,"known":[{"at":[0,1],"mm":[0,0]},null]}""", "unreadable" },
            { "half a point", """{"width":800,"height":600,"known":[{"at":[0,1],"mm":[0,0]},{"at":[0,2]}]}""", "unreadable" },
            { "no points", """{"width":800,"height":600}""", "unreadable" },
            { "a word", "\"none\"", "unreadable" },
        };

    [Theory]
    [MemberData(nameof(BadScales))]
    public async Task A_scale_that_cannot_be_is_refused_with_its_tracing(string what, string scale, string code)
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            Traced(JsonSerializer.Deserialize<JsonElement>(scale))
        );
        var problem = await response.Json();
        Assert.True(
            response.StatusCode == HttpStatusCode.UnprocessableEntity && problem.GetProperty("code").GetString() == code,
            $"{what}: {problem}"
        );
        Assert.Equal("entries[0]", problem.GetProperty("place").GetString());
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
    }

    private static object Traced(object scale)
    {
        var section = JsonSerializer.SerializeToNode(ClientExtensions.Section(45, 45))!.AsObject();
        section["calibration"] = JsonSerializer.SerializeToNode(scale);
        return new
        {
            takenAt = "2026-06-12T10:00:00Z",
            method = "photograph",
            entries = new[] { section },
        };
    }

    [Fact]
    public async Task One_bad_entry_among_good_ones_refuses_the_whole_visit_and_says_which()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00Z",
                method = "m",
                entries = new[]
                {
                    ClientExtensions.Section(45, 45),
                    new
                    {
                        kind = "cross-section",
                        station = "s",
                        unit = "cm",
                        yAxis = "up",
                        points = Enumerable.Range(-60, 121).Select(i => new double[] { i, -Math.Abs(i) * 0.5 }),
                    },
                },
            }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, response.StatusCode);
        var problem = await response.Json();
        Assert.Equal("implausible-size", problem.GetProperty("code").GetString());
        Assert.Equal("entries[1]", problem.GetProperty("place").GetString());
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
    }

    [Fact]
    public async Task A_million_points_are_refused_before_they_are_smoothed()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        var table = "x_mm,y_mm\n" + string.Concat(Enumerable.Repeat("1.5,2\n", 1_000_000));
        var visit = await Visit(client, horse);
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit}/tracings?station=s",
            table,
            type: "text/csv"
        );
        Assert.Equal("too-many-points", (await response.Json()).GetProperty("code").GetString());
    }

    [Fact]
    public async Task A_body_of_two_hundred_megabytes_is_refused_unread()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/api/horses/{horse}/visits")
        {
            Content = new ZeroContent(200L << 20) { Headers = { ContentType = new("application/json") } },
        };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", "large");
        request.Headers.TryAddWithoutValidation("If-Match", "*");
        request.Headers.ExpectContinue = true;
        using var response = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, response.StatusCode);
    }

    [Fact]
    public async Task A_command_without_a_key_or_a_version_is_told_what_is_missing()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        using var bare = new HttpRequestMessage(HttpMethod.Put, $"/api/horses/{horse}")
        {
            Content = new StringContent("""{"name":"x","reason":"y"}""", null, "application/json"),
        };
        var noKey = await client.SendAsync(bare);
        Assert.Equal("no-idempotency-key", (await noKey.Json()).GetProperty("code").GetString());
        var noVersion = await client.Write(HttpMethod.Put, $"/api/horses/{horse}", new { name = "x", reason = "y" }, ifMatch: null);
        Assert.Equal(HttpStatusCode.PreconditionRequired, noVersion.StatusCode);
    }

    [Fact]
    public async Task A_key_that_comes_again_with_another_body_is_a_conflict()
    {
        using var client = service.Client();
        var horse = await client.Horse();
        await client.Write(HttpMethod.Put, $"/api/horses/{horse}", new { name = "a", reason = "r" }, key: $"k-{horse}");
        var other = await client.Write(HttpMethod.Put, $"/api/horses/{horse}", new { name = "b", reason = "r" }, key: $"k-{horse}");
        Assert.Equal(HttpStatusCode.Conflict, other.StatusCode);
        Assert.Equal("a", (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("name").GetString());
    }

    [Fact]
    public async Task Another_practices_horse_answers_exactly_as_one_that_does_not_exist()
    {
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        var foreign = await theirs.Horse();
        foreach (
            var path in new[] { "", "/visits", "/timeline", "/measures", "/trends", "/since-fit", "/charts/trend.svg?measure=slope-left" }
        )
        {
            var (a, b) = (await mine.GetAsync($"/api/horses/{foreign}{path}"), await mine.GetAsync($"/api/horses/{Guid.NewGuid()}{path}"));
            Assert.Equal(HttpStatusCode.NotFound, a.StatusCode);
            Assert.Equal(await Comparable(b), await Comparable(a));
        }

        var visit = new
        {
            takenAt = "2026-06-12T10:00:00Z",
            method = "m",
            entries = Array.Empty<object>(),
        };
        var write = await mine.Write(HttpMethod.Post, $"/api/horses/{foreign}/visits", visit);
        Assert.Equal(HttpStatusCode.NotFound, write.StatusCode);
        Assert.Equal(1, (await theirs.GetFromJson($"/api/horses/{foreign}")).GetProperty("version").GetInt32());
    }

    [Fact]
    public async Task Nobody_gets_anything_without_signing_in()
    {
        using var nobody = service.Anonymous();
        Assert.Equal(HttpStatusCode.Unauthorized, (await nobody.GetAsync("/api/horses")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await nobody.Write(HttpMethod.Post, "/api/horses", new { name = "x" })).StatusCode);
        var page = await nobody.GetAsync("/");
        Assert.Equal(HttpStatusCode.Redirect, page.StatusCode);
        Assert.StartsWith("/sign-in", page.Headers.Location!.OriginalString, StringComparison.Ordinal);
    }

    private static async Task<string> Comparable(HttpResponseMessage response)
    {
        var body = await response.Content.ReadAsStringAsync();
        var trace = System.Text.RegularExpressions.Regex.Replace(
            body,
            "\"traceId\":\"[^\"]*\"",
            "",
            System.Text.RegularExpressions.RegexOptions.None,
            System.Text.RegularExpressions.Regex.InfiniteMatchTimeout
        );
        return $"{response.StatusCode} {response.Content.Headers.ContentType} {trace}";
    }

    private static async Task<Guid> Visit(HttpClient client, Guid horse)
    {
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00Z",
                method = "m",
                entries = Array.Empty<object>(),
            }
        );
        return (await response.Json()).GetProperty("visitId").GetGuid();
    }

    private static async Task<JsonElement> Eventually(Func<Task<JsonElement>> ask, Func<JsonElement, bool> good)
    {
        for (var i = 0; ; i++)
        {
            var answer = await ask();
            if (good(answer) || i == 200)
                return answer;
            await Task.Delay(50);
        }
    }

    private sealed class ZeroContent(long length) : HttpContent
    {
        protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context)
        {
            var block = new byte[1 << 20];
            for (var left = length; left > 0; left -= block.Length)
                await stream.WriteAsync(block);
        }

        protected override bool TryComputeLength(out long l)
        {
            l = length;
            return true;
        }
    }
}

internal static class JsonExtensions
{
    public static async Task<JsonElement> GetFromJson(this HttpClient client, string path)
    {
        var response = await client.GetAsync(path);
        Assert.True(response.IsSuccessStatusCode, $"{path}: {response.StatusCode}");
        return await response.Json();
    }
}
