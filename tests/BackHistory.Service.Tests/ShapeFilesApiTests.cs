using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>Drawings and meshes in, contours, volumes, change maps and settings out.</summary>
public sealed class ShapeFilesApiTests(RunningService service)
{
    private static readonly string Points = string.Join(
        ' ',
        Backs.Section(45, 41).Points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X},{-p.Y}"))
    );

    [Fact]
    public async Task A_drawing_in_svg_is_looked_at_and_then_measured_as_a_tracing_and_comes_back_at_one_to_one()
    {
        using var client = service.Client();
        var (horse, visit) = await Visit(client, "Drawn");
        var svg = $"""
            <svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="-300 -100 600 400">
            <polyline id="back" points="{Points}"/></svg>
            """;
        var look = await (await client.Write(HttpMethod.Post, "/api/contours/svg", svg, type: "application/octet-stream")).Json();
        Assert.True(look.GetProperty("unitStated").GetBoolean());
        Assert.Equal("back", look.GetProperty("lines")[0].GetProperty("name").GetString());

        var entered = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit}/contours/svg?station=mid-back&noise=0&midline={Origin(look)}",
            svg,
            type: "application/octet-stream"
        );
        Assert.True(entered.StatusCode == HttpStatusCode.Created, await entered.Content.ReadAsStringAsync());
        var measured = await entered.Json();
        Assert.Equal(45, Measure(measured, 0, "slope-left"), 0.5);
        Assert.Equal(41, Measure(measured, 0, "slope-right"), 0.5);

        await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left&station=mid-back", m => m.GetArrayLength() == 1);
        var dxf = await client.GetStringAsync($"/api/horses/{horse}/visits/{visit}/contour.dxf?station=mid-back");
        var again = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits/{visit}/contours/dxf?station=last-rib&noise=0",
            dxf,
            type: "application/octet-stream"
        );
        Assert.True(again.StatusCode == HttpStatusCode.Created, await again.Content.ReadAsStringAsync());
        Assert.Equal(45, Measure(await again.Json(), 0, "slope-left"), 0.5);
    }

    [Theory]
    [InlineData("svg", "<svg><path d='M0 0 L", "unreadable")]
    [InlineData("svg", "<!DOCTYPE svg [<!ENTITY a \"b\">]><svg xmlns=\"http://www.w3.org/2000/svg\"><text>&a;</text></svg>", "unreadable")]
    [InlineData("dxf", "no drawing", "unreadable")]
    [InlineData("png", "x", "unknown-format")]
    public async Task A_file_that_is_no_drawing_is_refused_with_its_reason(string format, string body, string code)
    {
        using var client = service.Client();
        var response = await client.Write(HttpMethod.Post, $"/api/contours/{format}", body, type: "application/octet-stream");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, response.StatusCode);
        Assert.Equal(code, (await response.Json()).GetProperty("code").GetString());
    }

    [Fact]
    public async Task A_mesh_of_a_scanner_is_cut_at_the_stations()
    {
        using var client = service.Client();
        var (horse, visit) = await Visit(client, "Scanned");
        // A back of one section drawn 500 mm long, in metres, up = z and tail = y.
        var section = Backs.Section(45, 41).Points;
        var obj = new StringBuilder();
        foreach (var y in new[] { -0.05, 0.45 })
        foreach (var p in section)
            obj.Append(CultureInfo.InvariantCulture, $"v {p.X / 1000} {y} {p.Y / 1000}\n");
        for (var i = 1; i < section.Length; i++)
            obj.Append(CultureInfo.InvariantCulture, $"f {i} {i + 1} {section.Length + i + 1} {section.Length + i}\n");
        var at = $"/api/horses/{horse}/visits/{visit}/mesh/obj?unit=m&datum=0,0,0&up=0,0,1&stations=shoulder:0,behind-shoulder:102&noise=0";
        var cut = await client.Write(HttpMethod.Post, $"{at}&tail=0,1,0", obj.ToString(), type: "application/octet-stream");
        Assert.True(cut.StatusCode == HttpStatusCode.Created, await cut.Content.ReadAsStringAsync());
        var body = await cut.Json();
        Assert.Equal(2, body.GetProperty("entries").GetArrayLength());
        // Which side is left follows from up and tail: seen from behind, x to the right of the horse is −x of this mesh or x, never mixed.
        double[] slopes = [Measure(body, 0, "slope-left"), Measure(body, 0, "slope-right")];
        Assert.Equal([41, 45], slopes.Order().Select(s => Math.Round(s)));

        var refused = await client.Write(HttpMethod.Post, $"{at}&tail=0,0,1", obj.ToString(), type: "application/octet-stream");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task The_same_sections_with_a_topline_at_one_date_only_have_not_changed(bool toplineFirst)
    {
        using var client = service.Client();
        var horse = await client.Horse("Measured Again");
        var topline = new
        {
            kind = "topline",
            unit = "mm",
            yAxis = "up",
            tail = "right",
            points = Backs.Topline(38).Points.Select(p => new[] { p.X, p.Y }).ToArray(),
            marks = Backs.Topline(38).Marks.ToDictionary(m => m.Key == "withers" ? "shoulder" : m.Key, m => new[] { m.Value.X, m.Value.Y }),
        };
        object[] sections = [ClientExtensions.Section(45, 44, "behind-shoulder"), ClientExtensions.Section(40, 41, "last-rib")];
        var visits = new List<Guid>();
        foreach (
            var (on, entries) in new[]
            {
                ("2026-06-12", toplineFirst ? [.. sections, topline] : sections),
                ("2026-06-13", toplineFirst ? sections : [.. sections, topline]),
            }
        )
        {
            var visit = await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = $"{on}T10:00:00Z",
                    method = "flexible-curve",
                    entries,
                }
            );
            Assert.True(visit.IsSuccessStatusCode, await visit.Content.ReadAsStringAsync());
            visits.Add((await visit.Json()).GetProperty("visitId").GetGuid());
        }

        await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left", m => m.GetArrayLength() == 4);
        var map = await client.GetFromJson($"/api/horses/{horse}/visits/{visits[1]}/change-map?since={visits[0]}");
        Assert.True(map.GetProperty("rms").GetDouble() < 0.01, map.ToString());
        var says = string.Join(' ', map.GetProperty("says").EnumerateArray().Select(s => s.GetString()));
        Assert.DoesNotContain("gained: ", says, StringComparison.Ordinal);
        Assert.Contains("Heights are not compared", says, StringComparison.Ordinal);
        var drawn = await client.GetStringAsync($"/api/horses/{horse}/compare/change.svg?visits={visits[0]},{visits[1]}");
        Assert.Contains("Heights are not compared", drawn, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_map_names_stations_as_people_do()
    {
        using var client = service.Client();
        var horse = await client.Horse("Named Places");
        var first = await Traced(client, horse, "2026-06-12T10:00:00Z", 45, 45);
        var later = await Traced(client, horse, "2026-09-12T10:00:00Z", 37, 45);
        await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left", m => m.GetArrayLength() == 8);
        var map = await client.GetFromJson($"/api/horses/{horse}/visits/{later}/change-map?since={first}");
        var says = string.Join(' ', map.GetProperty("says").EnumerateArray().Select(s => s.GetString()));
        Assert.Contains("Most gained", says, StringComparison.Ordinal);
        foreach (var key in new[] { "behind-shoulder", "last-rib", "`" })
            Assert.DoesNotContain(key, says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_visit_has_half_volumes_and_a_change_map_and_a_proposal_in_the_marks_of_the_gauge()
    {
        using var client = service.Client();
        var horse = await client.Horse("Lofted");
        var first = await Traced(client, horse, "2026-06-12T10:00:00Z", 45, 45);
        var later = await Traced(client, horse, "2026-09-12T10:00:00Z", 37, 45);
        await Eventually(client, $"/api/horses/{horse}/measures?key=slope-left", m => m.GetArrayLength() == 8);

        var surface = await client.GetFromJson($"/api/horses/{horse}/visits/{later}/surface");
        var volumes = surface
            .GetProperty("halfVolumes")
            .EnumerateArray()
            .ToDictionary(m => m.GetProperty("key").GetString()!, m => m.GetProperty("value").GetDouble());
        // The flatter side holds more of the back above 100 mm.
        Assert.True(volumes["half-volume-left"] > volumes["half-volume-right"]);
        var map = await client.GetFromJson($"/api/horses/{horse}/visits/{later}/change-map?since={first}");
        Assert.StartsWith("left side", map.GetProperty("gain").GetProperty("words").GetString(), StringComparison.Ordinal);
        Assert.True(map.GetProperty("gain").GetProperty("change").GetDouble() > 5);

        // For whom the surface does not turn, and for print.
        var above = await client.GetAsync($"/api/horses/{horse}/compare/change.png?visits={first},{later}");
        Assert.Equal("image/png", above.Content.Headers.ContentType?.MediaType);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/api/horses/{horse}/compare/change.png?visits={later}")).StatusCode);

        // The vet's view follows the same volumes from visit to visit.
        var series = (await client.GetFromJson($"/api/horses/{horse}/condition"))
            .GetProperty("series")
            .EnumerateArray()
            .Single(s => s.GetProperty("key").GetString() == "half-volume-left");
        Assert.Equal("l", series.GetProperty("unit").GetString());
        var followed = series.GetProperty("visits").EnumerateArray().Select(v => v.GetProperty("value").GetDouble()).ToList();
        Assert.Equal(2, followed.Count);
        Assert.Equal(volumes["half-volume-left"], followed[1], 1e-9);
        Assert.True(followed[1] > followed[0]);

        var marks = Enumerable
            .Range(0, 9)
            .Select(i => new
            {
                name = $"{i}",
                position = (double)i,
                value = 30 + 2.5 * i,
            })
            .ToArray();
        await client.Write(
            HttpMethod.Put,
            "/api/practice/gauges/bench",
            new
            {
                name = "Bench gauge",
                measure = "slope",
                unit = "deg",
                marks,
                reason = "The bench's own.",
            }
        );
        var saddle = (await (await client.Write(HttpMethod.Post, "/api/saddles", new { label = "lofted", gauge = "bench" })).Json())
            .GetProperty("id")
            .GetGuid();
        var asked = await client.GetAsync($"/api/saddles/{saddle}/horses/{horse}/proposal?visit={later}");
        Assert.Equal(HttpStatusCode.NotFound, asked.StatusCode);
        var setting = await client.GetFromJson($"/api/saddles/{saddle}/horses/{horse}/proposal?visit={later}&since={first}");
        Assert.Equal("bench", setting.GetProperty("gauge").GetString());
        var left = setting.GetProperty("changes").EnumerateArray().Single(c => c.GetProperty("of").GetString() == "tree-left");
        Assert.Equal(-8, left.GetProperty("change").GetDouble(), 0.5);
        Assert.Equal(-8 / 2.5, left.GetProperty("marks").GetDouble(), 0.2);
        // The hand and the day, not only the line: √2·√(1² + 1.5²)° for two visits of one tracing.
        Assert.Equal(Math.Sqrt(2 * (1 + 2.25)), left.GetProperty("sd").GetDouble(), 0.01);
        Assert.Contains("veterinary surgeon", setting.GetProperty("caution").GetString(), StringComparison.Ordinal);
    }

    private static string Origin(JsonElement look)
    {
        // The midline mark is the top of the drawn line: x as drawn, y as read.
        var line = look.GetProperty("lines")[0];
        var middle = line.GetProperty("left").GetDouble() + Backs.Section(45, 41).Points.Max(p => -p.X);
        return string.Create(CultureInfo.InvariantCulture, $"{middle},{line.GetProperty("top").GetDouble()}");
    }

    private static double Measure(JsonElement entered, int entry, string key) =>
        entered
            .GetProperty("entries")[entry]
            .GetProperty("measures")
            .EnumerateArray()
            .Single(m => m.GetProperty("key").GetString() == key)
            .GetProperty("value")
            .GetDouble();

    private static async Task<(Guid Horse, Guid Visit)> Visit(HttpClient client, string name)
    {
        var horse = await client.Horse(name);
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = "2026-06-12T10:00:00Z",
                method = "scan",
                entries = Array.Empty<object>(),
            }
        );
        Assert.Equal(HttpStatusCode.Created, response.StatusCode);
        return (horse, (await response.Json()).GetProperty("visitId").GetGuid());
    }

    private static async Task<Guid> Traced(HttpClient client, Guid horse, string at, double left, double right)
    {
        string[] stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];
        var response = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = at,
                method = "flexible-curve",
                entries = stations.Select(s => ClientExtensions.Section(left, right, s)).ToArray(),
            }
        );
        Assert.Equal(HttpStatusCode.Created, response.StatusCode);
        return (await response.Json()).GetProperty("visitId").GetGuid();
    }

    private static async Task<JsonElement> Eventually(HttpClient client, string path, Func<JsonElement, bool> good)
    {
        for (var i = 0; ; i++)
        {
            var answer = await client.GetFromJson(path);
            if (good(answer) || i == 300)
                return answer;
            await Task.Delay(50);
        }
    }
}
