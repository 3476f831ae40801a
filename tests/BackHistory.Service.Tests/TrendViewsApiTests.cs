using System.Globalization;
using System.Net;
using System.Text.Json;

namespace BackHistory.Service.Tests;

/// <summary>Decision, condition, repeatability and outlook over HTTP, with their pictures.</summary>
public sealed class TrendViewsApiTests(RunningService service)
{
    [Fact]
    public async Task Five_horses_measured_twice_are_guided_from_one_to_the_next_and_end_in_a_verdict_that_is_used()
    {
        using var client = service.Client(RunningService.Changing);
        var study = (
            await (
                await client.Write(
                    HttpMethod.Post,
                    "/api/practice/studies/guided",
                    new
                    {
                        method = "flexible-curve",
                        horses = 5,
                        times = 2,
                    }
                )
            ).Json()
        ).GetProperty("made").GetGuid();
        var start = await client.GetFromJson($"/api/practice/studies/{study}");
        Assert.StartsWith("Horse 1 of 5", start.GetProperty("next").GetString(), StringComparison.Ordinal);

        for (var h = 0; h < 5; h++)
        {
            var horse = await client.Horse($"Measured Twice {h}");
            var once = await Visit(client, horse, "2026-06-01T10:00:00Z", (45, 44));
            if (h == 0)
            {
                await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left", m => m.GetArrayLength() == 1);
                var refused = await client.Write(
                    HttpMethod.Post,
                    $"/api/practice/studies/{study}/visits",
                    new { horseId = horse, visitId = once }
                );
                Assert.Equal("nothing-repeated", (await refused.Json()).GetProperty("code").GetString());
            }
            var twice = await Visit(
                client,
                horse,
                "2026-06-02T10:00:00Z",
                (45 + h, 44),
                (47 + h, 44),
                (45 + h, 44, "mid-back"),
                (47 + h, 44, "mid-back"),
                (45 + h, 44, "last-rib"),
                (47 + h, 44, "last-rib")
            );
            await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left", m => m.GetArrayLength() == 7);
            Assert.Equal(
                HttpStatusCode.OK,
                (
                    await client.Write(HttpMethod.Post, $"/api/practice/studies/{study}/visits", new { horseId = horse, visitId = twice })
                ).StatusCode
            );
        }

        var done = await client.GetFromJson($"/api/practice/studies/{study}");
        Assert.Equal(5, done.GetProperty("horsesDone").GetInt32());
        Assert.StartsWith("All horses are measured", done.GetProperty("next").GetString(), StringComparison.Ordinal);
        var slope = done.GetProperty("findings").EnumerateArray().First(f => f.GetProperty("measure").GetString() == "slope-left");
        Assert.Equal(15, slope.GetProperty("repeats").GetProperty("df").GetInt32());
        Assert.Equal(Math.Sqrt(2), slope.GetProperty("repeats").GetProperty("withinSd").GetDouble(), 0.1);
        Assert.Equal(-2, slope.GetProperty("agreement").GetProperty("bias").GetDouble(), 0.1);
        Assert.Contains(
            slope.GetProperty("says").EnumerateArray(),
            s =>
                s.GetString()!.Contains("your own", StringComparison.Ordinal)
                || s.GetString()!.Contains("in place of the rule of thumb", StringComparison.Ordinal)
        );
        await Picture(client, $"/api/practice/studies/{study}/agreement.FORM?measure=slope-left");

        Assert.Equal(HttpStatusCode.OK, (await client.Write(HttpMethod.Post, $"/api/practice/studies/{study}/finish", "")).StatusCode);
        var learned = await Eventually(
            client,
            "/api/practice/learned",
            l => l.TryGetProperty("noiseVersion", out var v) && v.ValueKind == JsonValueKind.Number,
            600
        );
        var layers = learned.GetProperty("noise").EnumerateArray().First(n => n.GetProperty("measure").GetString() == "slope-left");
        Assert.True(layers.GetProperty("used").GetBoolean());
        Assert.Equal(Math.Sqrt(2), layers.GetProperty("trace").GetProperty("sd").GetDouble(), 0.1);
        var before = await client.GetFromJson($"/api/practice/rules/{learned.GetProperty("noiseVersion").GetInt32() - 1}");
        Assert.False(before.TryGetProperty("noiseVersion", out var none) && none.ValueKind == JsonValueKind.Number);
    }

    [Fact]
    public async Task A_decision_explains_itself_in_numbers_and_words_and_is_made_again_as_of_an_earlier_day()
    {
        using var client = service.Client();
        var (horse, visit) = await Fitted(client, "Opened Up");
        await Visit(client, horse, "2026-09-01T10:00:00Z", (33, 33));
        var decision = await Eventually(
            client,
            $"/api/horses/{horse}/decision",
            d => d.TryGetProperty("state", out var s) && s.GetString() == "refit",
            600
        );
        Assert.True(decision.GetProperty("stored").GetBoolean());
        var saddle = decision.GetProperty("saddles")[0];
        Assert.Equal(visit, saddle.GetProperty("baselineVisit").GetGuid());
        var said = saddle.GetProperty("decision");
        Assert.True(said.GetProperty("p").GetDouble() > 0.9);
        var words = said.GetProperty("statements")
            .EnumerateArray()
            .ToDictionary(s => s.GetProperty("kind").GetString()!, s => s.GetProperty("text").GetString()!);
        Assert.StartsWith("Check the saddle: since it was set on 12 Jun 2026", words["state"], StringComparison.Ordinal);
        Assert.Contains("against a limit of", words["driver"], StringComparison.Ordinal);

        var then = await client.GetFromJson($"/api/horses/{horse}/decision?asOf=2026-06-20");
        Assert.Equal("steady", then.GetProperty("state").GetString());
        var version = decision.GetProperty("rulesVersion").GetInt32();
        var again = await client.GetFromJson(
            $"/api/horses/{horse}/decision?asOf={decision.GetProperty("asOf").GetString()}&rulesVersion={version}"
        );
        Assert.Equal(
            said.GetProperty("p").GetDouble(),
            again.GetProperty("saddles")[0].GetProperty("decision").GetProperty("p").GetDouble(),
            1e-9
        );
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/api/horses/{horse}/decision?rulesVersion=999")).StatusCode);
    }

    [Fact]
    public async Task The_veterinary_view_says_since_when_left_and_right_have_parted()
    {
        using var client = service.Client();
        var horse = await client.Horse("Parting Sides");
        await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/work",
            new
            {
                load = "hard",
                discipline = "eventing",
                from = "2025-01-01T08:00:00Z",
            }
        );
        var start = new DateTime(2025, 1, 10, 10, 0, 0, DateTimeKind.Utc);
        for (var v = 0; v < 12; v++)
        {
            var right = v < 6 ? 45 : 58;
            await Visit(client, horse, start.AddDays(30 * v).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture), (45, right));
        }
        var view = await Eventually(
            client,
            $"/api/horses/{horse}/condition",
            c => c.GetProperty("series").EnumerateArray().Any(s => s.GetProperty("visits").GetArrayLength() == 12),
            600
        );
        var side = view.GetProperty("sides")[0];
        Assert.True(side.GetProperty("parting").GetProperty("p").GetDouble() > 0.8, side.GetRawText());
        Assert.StartsWith("Left and right have parted since about", side.GetProperty("says").GetString(), StringComparison.Ordinal);
        var since = DateOnly.Parse(side.GetProperty("parting").GetProperty("since").GetString()!, CultureInfo.InvariantCulture);
        Assert.InRange(since, new DateOnly(2025, 5, 10), new DateOnly(2025, 8, 10));
        Assert.Contains(view.GetProperty("spans").EnumerateArray(), s => s.GetProperty("label").GetString() == "hard work, eventing");
        Assert.Contains(
            view.GetProperty("says").EnumerateArray(),
            s => s.GetString()!.Contains("veterinary surgeon", StringComparison.Ordinal)
        );
        await Picture(client, $"/api/horses/{horse}/charts/condition.FORM?station=behind-shoulder");
    }

    [Fact]
    public async Task The_practice_sees_the_refits_to_come_and_how_its_horses_change()
    {
        using var client = service.Client(RunningService.Counted);
        var (horse, _) = await Fitted(client, "Seen By All");
        await Visit(client, horse, "2026-09-01T10:00:00Z", (41, 41));
        var outlook = await Eventually(client, "/api/practice/outlook", o => o.GetProperty("horses").GetInt32() > 0, 600);
        Assert.Equal(6, outlook.GetProperty("expected").GetArrayLength());
        Assert.All(
            outlook.GetProperty("expected").EnumerateArray(),
            m => Assert.True(m.GetProperty("low").GetInt32() <= m.GetProperty("high").GetInt32())
        );
        Assert.Equal(6, outlook.GetProperty("done").GetArrayLength());
        await Picture(client, "/api/practice/outlook.FORM");
        var changes = await Eventually(
            client,
            "/api/practice/changes?measure=slope-left",
            c => c.GetProperty("changes").GetInt32() > 0,
            600
        );
        // Four degrees flatter in 81 days.
        Assert.Contains(
            changes.GetProperty("byAge").EnumerateArray(),
            g => Math.Abs(g.GetProperty("median").GetDouble() + 4.0 * 90 / 81) < 0.3
        );
        await Picture(client, "/api/practice/changes.FORM?measure=slope-left");
    }

    private static async Task<(Guid Horse, Guid Visit)> Fitted(HttpClient client, string name)
    {
        var horse = await client.Horse(name);
        var visit = await Visit(client, horse, "2026-06-12T10:00:00Z", (45, 45));
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = $"of {name}" })).Json())
            .GetProperty("id")
            .GetGuid();
        var set = await client.Write(
            HttpMethod.Post,
            $"/api/saddles/{saddle}/work",
            new
            {
                kind = "set",
                horseId = horse,
                visitId = visit,
                takenAt = "2026-06-12T11:00:00Z",
                fresh = false,
            }
        );
        Assert.True(set.IsSuccessStatusCode, await set.Content.ReadAsStringAsync());
        return (horse, visit);
    }

    private static Task<Guid> Visit(HttpClient client, Guid horse, string at, params (double Left, double Right)[] sections) =>
        Visit(client, horse, at, [.. sections.Select(s => (s.Left, s.Right, "behind-shoulder"))]);

    private static Task<Guid> Visit(
        HttpClient client,
        Guid horse,
        string at,
        (double, double) one,
        (double, double) two,
        params (double, double, string)[] more
    ) => Visit(client, horse, at, [(one.Item1, one.Item2, "behind-shoulder"), (two.Item1, two.Item2, "behind-shoulder"), .. more]);

    private static async Task<Guid> Visit(HttpClient client, Guid horse, string at, (double Left, double Right, string Station)[] sections)
    {
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = at,
                method = "flexible-curve",
                entries = sections.Select(s => ClientExtensions.Section(s.Left, s.Right, s.Station)).ToArray(),
            }
        );
        Assert.True(response.StatusCode == HttpStatusCode.Created, await response.Content.ReadAsStringAsync());
        return (await response.Json()).GetProperty("visitId").GetGuid();
    }

    /// <summary>Both forms, light and dark.</summary>
    private static async Task Picture(HttpClient client, string path)
    {
        var join = path.Contains('?', StringComparison.Ordinal) ? '&' : '?';
        var svg = await client.GetStringAsync(path.Replace("FORM", "svg", StringComparison.Ordinal));
        Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
        Assert.NotEqual(svg, await client.GetStringAsync(path.Replace("FORM", "svg", StringComparison.Ordinal) + join + "theme=dark"));
        var png = await client.GetByteArrayAsync(path.Replace("FORM", "png", StringComparison.Ordinal));
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], png[..4]);
    }

    private static async Task<JsonElement> Eventually(HttpClient client, string path, Func<JsonElement, bool> good, int tries = 300)
    {
        for (var i = 0; ; i++)
        {
            // A horse that was not looked at yet has no answer.
            using var response = await client.GetAsync(path);
            if (i == tries)
                Assert.True(response.IsSuccessStatusCode, $"{path}: {response.StatusCode}");
            if (response.IsSuccessStatusCode && await response.Json() is var answer && (good(answer) || i == tries))
                return answer;
            await Task.Delay(50);
        }
    }
}
