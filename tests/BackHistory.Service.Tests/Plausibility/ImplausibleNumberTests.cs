using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Testing;
using BackHistory.Trends.Rules;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>
/// Numbers that no horse has, at every door at which a number comes in: refused in words before anything is saved, and nobody's read model
/// stands still.
/// </summary>
public sealed class ImplausibleNumberTests(SeparatePractices practices) : IClassFixture<SeparatePractices>
{
    private const string Topline = """{"kind":"topline","unit":"mm","yAxis":"up","tail":"right","points":POINTS,"marks":MARKS}""";

    /// <summary>What is wrong, the part of a good cross-section that it replaces, its JSON, and the code of the refusal.</summary>
    public static TheoryData<string, string, string, string> Sections =>
        new()
        {
            { "a mark at 1.7e308 on a sheet held askew", "marks", """{"muscle-junction-right":[-1.7e308,1.7e308]}""", "implausible-size" },
            { "a mark at 1e308", "marks", """{"muscle-junction-left":[-1e308,-1e308]}""", "implausible-size" },
            { "a mark at 1e155", "marks", """{"muscle-junction-left":[-1e155,30]}""", "implausible-size" },
            { "a mark across the yard", "marks", """{"muscle-junction-left":[-9000,30]}""", "implausible-size" },
            { "a noise of 1e308", "noise", "1e308", "implausible-size" },
            { "a noise of two metres", "noise", "2000", "implausible-size" },
            { "a midline mark at 1e308", "midline", "[1e308,0]", "implausible-size" },
            { "a level line of 1e308", "level", "[[-1e308,0],[1e308,0]]", "implausible-size" },
            { "a point at 1e308", "points", "[[-1e308,0],[1e308,0]]", "implausible-size" },
            { "half a letter among the points", "points", "[[\"\\ud800\",0]]", "unreadable" },
            { "half a letter as a mark's name", "marks", "{\"\\ud800\":[0,0]}", "unreadable" },
            { "a station that holds NUL", "station", "\"behind\\u0000shoulder\"", "unreadable" },
            { "a calibration at 1e308", "calibration", Calibrated("1e308", "1"), "calibration" },
            { "a residual of 1e308", "calibration", Calibrated("9", "1e308"), "calibration" },
        };

    private static string Calibrated(string mm, string residual) =>
        $$"""{"width":800,"height":600,"known":[{"at":[1,1],"mm":[0,0]},{"at":[8,1],"mm":[{{mm}},0]}],"residual":{{residual}}}""";

    [Theory]
    [MemberData(nameof(Sections))]
    public async Task A_cross_section_with_a_number_that_no_back_has_is_refused_and_the_other_practice_goes_on(
        string what,
        string part,
        string json,
        string code
    )
    {
        var section = Json(ClientExtensions.Section(45, 41));
        section["level"] = JsonNode.Parse("[[-100,30],[100,-30]]");
        // Text that is no Unicode passes no JSON writer: it is put into the body by hand.
        section[part] = "HERE";
        var body = Json(SeparatePractices.Visit(section)).ToJsonString().Replace("\"HERE\"", json, StringComparison.Ordinal);
        await Refused(what, body, code, "entries[0]");
    }

    [Theory]
    [InlineData("""{"shoulder":[1e308,0],"behind-shoulder":[-1e308,-8],"last-rib":[450,0]}""")]
    [InlineData("""{"behind-shoulder":[100,-8],"last-rib":[1e155,0]}""")]
    [InlineData("""{"behind-shoulder":[100,1e308],"last-rib":[450,-1e308]}""")]
    [InlineData("""{"behind-shoulder":[100,-8],"last-rib":[450,0],"withers":[1e12,0]}""")]
    public async Task A_topline_with_a_mark_that_lies_on_no_horse_is_refused_and_the_other_practice_goes_on(string marks)
    {
        var points = JsonSerializer.Serialize(Backs.Topline(20).Points.Select(p => new[] { p.X, p.Y }));
        var entry = Topline.Replace("POINTS", points, StringComparison.Ordinal).Replace("MARKS", marks, StringComparison.Ordinal);
        await Refused(marks, Json(SeparatePractices.Visit(JsonNode.Parse(entry)!)).ToJsonString(), "implausible-size", "entries[0]");
    }

    [Theory]
    [InlineData("""{"kind":"reading","measure":"read-slope-left","station":"s","value":1e308}""", "implausible-reading")]
    [InlineData("""{"kind":"weight","value":1e308,"unit":"kg"}""", "implausible-weight")]
    [InlineData("""{"kind":"weight","value":1e308,"unit":"lb"}""", "implausible-weight")]
    [InlineData("""{"kind":"girth","girth":1e308,"length":160,"unit":"cm"}""", "implausible-size")]
    [InlineData("""{"kind":"height","withers":1e308,"unit":"cm"}""", "implausible-height")]
    [InlineData("""{"kind":"height","withers":1600,"croup":-1e308,"unit":"mm"}""", "implausible-height")]
    [InlineData("""{"kind":"condition","score":1e308}""", "condition-scale")]
    [InlineData("""{"kind":"muscle","site":"back","score":-1e308}""", "muscle-scale")]
    [InlineData("""{"kind":"note","words":"Swollen\u0000 behind the left shoulder."}""", "unreadable")]
    public async Task A_reading_a_score_or_a_note_that_cannot_be_kept_is_refused(string entry, string code) =>
        await Refused(entry, $$"""{"takenAt":"2026-06-12T10:00:00Z","method":"m","entries":[{{entry}}]}""", code, null);

    [Fact]
    public async Task A_table_a_drawing_and_a_mesh_at_1e308_are_refused()
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse();
        var recorded = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", SeparatePractices.Visit());
        var visit = (await recorded.Json()).GetProperty("visitId").GetGuid();
        var at = $"/api/horses/{horse}/visits/{visit}";
        var back = Backs.Section(45, 41).Points;
        string Rows(Func<double, double, string> row) => string.Concat(back.Select(p => row(p.X, p.Y)));
        string Table(string extra) => "x_mm,y_mm\n" + extra + Rows((x, y) => string.Create(CultureInfo.InvariantCulture, $"{x},{y}\n"));
        var drawn = Rows((x, y) => string.Create(CultureInfo.InvariantCulture, $"{x},{-y} "));
        var svg = $"""
            <svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="-300 -100 600 400">
            <polyline points="1e300,1e300 {drawn}"/></svg>
            """;
        var dxf = "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n-1e308\n20\n0\n11\n1e308\n21\n0\n0\nENDSEC\n0\nEOF\n";
        const string Obj = "v 0 0 0\nv 1e308 0 1e308\nv 0 1e308 1e308\nf 1 2 3\n";
        foreach (
            var (path, body, type) in new[]
            {
                ($"{at}/tracings?station=s", Table("-1e308,0\n"), "text/csv"),
                ($"{at}/tracings?station=s&noise=1e308", Table(""), "text/csv"),
                ($"{at}/tracings?station=s&noise=NaN", Table(""), "text/csv"),
                ($"{at}/contours/csv?station=s", Table("-1e308,0\n"), "application/octet-stream"),
                ($"{at}/contours/csv?station=s&midline=1e308,0", Table(""), "application/octet-stream"),
                ($"{at}/contours/svg?station=s", svg, "application/octet-stream"),
                ($"{at}/contours/dxf?station=s", dxf, "application/octet-stream"),
                ($"{at}/mesh/obj?datum=0,0,0&up=0,0,1&tail=0,1,0&stations=shoulder:0", Obj, "application/octet-stream"),
                ($"{at}/mesh/obj?datum=1e308,0,0&up=1e308,0,1e308&tail=0,1e308,0&stations=shoulder:1e308", Obj, "application/octet-stream"),
            }
        )
        {
            var response = await client.Write(HttpMethod.Post, path, body, type: type);
            await Unprocessable(response, path);
        }

        Assert.Equal(2, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
        foreach (var (form, body) in new[] { ("svg", svg), ("dxf", dxf) })
        {
            var look = await client.Write(HttpMethod.Post, $"/api/contours/{form}", body, type: "application/octet-stream");
            Assert.True(look.StatusCode == HttpStatusCode.UnprocessableEntity, $"{form}: {look.StatusCode}");
        }

        await practices.NeighbourGoesOn();
    }

    public static TheoryData<string, string, string> Settings =>
        new()
        {
            { "PUT", "/api/practice/protocol", """{"stations":[{"key":"a","where":"there","fromDatumMm":1e308}]}""" },
            { "PUT", "/api/practice/gauges/bench", Gauge("0", "1", "1e308") },
            { "PUT", "/api/practice/gauges/bench", Gauge("-1e308", "1e308", "40") },
            { "POST", "/api/practice/studies", """{"measure":"slope-left","method":"m","subjects":[[1e308,-1e308],[1,2]]}""" },
            {
                "POST",
                "/api/practice/studies",
                """{"measure":"opening","method":"m","subjects":[[1,2]],"takenAt":"0001-01-01T00:00:00Z"}"""
            },
            { "PUT", "/api/thresholds", """{"rules":{"thresholds":[{"measure":"slope-left","amount":1e308}]},"reason":"r"}""" },
            {
                "PUT",
                "/api/thresholds",
                """{"rules":{"noise":[{"measure":"opening","traceSd":1e308,"visitSd":1,"personSd":1}]},"reason":"r"}"""
            },
            { "PUT", "/api/thresholds", """{"rules":{"flagFactor":1e308},"reason":"r"}""" },
            {
                "PUT",
                "/api/thresholds",
                """{"rules":{"noise":[{"measure":"opening","traceSd":1e-300,"visitSd":1e-300,"personSd":1e-300}]},"reason":"r"}"""
            },
            {
                "PUT",
                "/api/thresholds",
                """{"rules":{"noise":[{"measure":"opening","traceSd":1,"visitSd":1e-300,"personSd":1}]},"reason":"r"}"""
            },
            { "PUT", "/api/thresholds", """{"rules":{"thresholds":[{"measure":"slope-left","amount":1e-320}]},"reason":"r"}""" },
            { "PUT", "/api/thresholds", """{"rules":{"lean":{"scatter":1e-320}},"reason":"r"}""" },
            {
                "PUT",
                "/api/thresholds",
                """
                    {"rules":{"patterns":[{"name":"opens","scope":"each-station","weight":1,"grows":"a","shrinks":"b",
                    "loadings":[{"measure":"opening","loading":1e-320}]}]},"reason":"r"}
                    """
            },
            { "PUT", "/api/thresholds", Moving("0.5", "1e-320", "120") },
            { "PUT", "/api/thresholds", Moving("0.5", "0.01", "1e-320") },
            { "PUT", "/api/thresholds", Moving("1e-320", "0.01", "120") },
            { "PUT", "/api/reminder-rules", """{"rules":{"fastLoss":{"areaPercent":1e-300}},"reason":"r"}""" },
            { "PUT", "/api/thresholds", """{"rules":{"calendar":{"weightChangePercent":-1e308}},"reason":"r"}""" },
            { "PUT", "/api/thresholds", Movement },
            {
                "PUT",
                "/api/thresholds",
                """{"rules":{"vetCaution":{"measure":"fill-{side}","lossPercent":1e308,"bar":0.5}},"reason":"r"}"""
            },
            { "POST", "/api/horses", """{"name":"Bramble\u0000"}""" },
            { "POST", "/api/people", """{"name":"Olga\u0000","role":"owner"}""" },
            { "POST", "/api/horses/HORSE/care", """{"kind":"lay-off","from":"0001-01-01"}""" },
            { "POST", "/api/horses/HORSE/care", """{"kind":"lay-off","from":"2026-01-01","until":"9999-12-31"}""" },
            { "POST", "/api/horses/HORSE/work", """{"load":"light","hoursPerWeek":1e308}""" },
            { "POST", "/api/saddles/SADDLE/work", """{"kind":"set","horseId":"HORSE","takenAt":"0001-01-01T00:00:00Z","done":[]}""" },
            { "POST", "/api/saddles/SADDLE/trials", """{"horseId":"HORSE","until":"9999-12-31"}""" },
            { "POST", "/api/saddles/SADDLE/pads", """{"horseId":"HORSE","pad":"felt","shims":[],"from":"0001-01-01T00:00:00Z"}""" },
        };

    private const string Movement = """
        {"rules":{"movement":{"movesPerYear":1e308,"leastMovesPerYear":0,"scales":[{"pace":1e308,"share":1}],"persistenceDays":0,
        "steadyPace":0,"ignorancePace":1,"singleShare":0,"slipShare":0,"slipSize":0,"sameStation":0,"wholeBack":0}},"reason":"r"}
        """;

    private static string Moving(string perYear, string pace, string persistence) =>
        $$$"""
            {"rules":{"movement":{"movesPerYear":{{{perYear}}},"leastMovesPerYear":0,"scales":[{"pace":{{{pace}}},"share":1}],
            "persistenceDays":{{{persistence}}},"steadyPace":0.001,"ignorancePace":0.01,"singleShare":0,"slipShare":0,"slipSize":0,
            "sameStation":0,"wholeBack":0}},"reason":"r"}
            """;

    private static string Gauge(string first, string second, string value) =>
        $$"""
            {"name":"Bench","measure":"slope","unit":"deg","reason":"r",
            "marks":[{"name":"1","position":{{first}},"value":30},{"name":"2","position":{{second}},"value":{{value}}}]}
            """;

    [Theory]
    [MemberData(nameof(Settings))]
    public async Task What_a_practice_sets_lies_within_what_can_be_meant(string method, string path, string body)
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse();
        var registered = await client.Write(HttpMethod.Post, "/api/saddles", new { label = $"saddle of {horse}" });
        var saddle = (await registered.Json()).GetProperty("id").GetString()!;
        string Named(string text) =>
            text.Replace("HORSE", horse.ToString(), StringComparison.Ordinal).Replace("SADDLE", saddle, StringComparison.Ordinal);
        var response = await client.Write(new HttpMethod(method), Named(path), Named(body));
        await Unprocessable(response, $"{path} {body}");
    }

    /// <summary>As an earlier release stored them: noise of next to nothing for every measure.</summary>
    [Theory]
    [InlineData("tiny", 1e-300, 1e-300, false)]
    [InlineData("least", 0.01, 0, true)]
    public async Task Rules_with_next_to_no_noise_that_were_stored_before_answer_on_every_page(
        string practice,
        double traceSd,
        double other,
        bool taken
    )
    {
        await practices.Host.Found(practice);
        using var client = practices.Host.Client(practice);
        var rules = WatchRules.Default with
        {
            Noise = [.. WatchRules.Default.Noise.Select(n => n with { TraceSd = traceSd, VisitSd = other, PersonSd = other })],
        };
        var now = practices.Time.GetUtcNow();
        var stored = await practices
            .Host.Services.GetRequiredService<Commands>()
            .Execute<History.Practices.Practice>(
                new CommandContext(practice, Guid.Empty, "rules", "", null, now),
                DeterministicId.From("practice", practice),
                p =>
                    taken
                        ? PracticeDecider.Decide(p, new ChangeWatchRules(rules, "r", Guid.Empty), now)
                        : Decided.Yes(new WatchRulesChanged(p!.RulesVersion + 1, rules, "r", now, Guid.Empty)),
                CancellationToken.None
            );
        Assert.Null(stored.Refused);
        var horse = await client.Horse();
        foreach (var (day, left) in new[] { ("2026-06-01", 45.0), ("2026-06-01", 45.2), ("2026-06-15", 45.0), ("2026-06-29", 43.0) })
            await client.Write(
                HttpMethod.Post,
                $"/api/horses/{horse}/visits",
                new
                {
                    takenAt = $"{day}T10:00:00Z",
                    method = "flexible-curve",
                    entries = new[] { ClientExtensions.Section(left, 41), Weight(left) },
                }
            );
        await practices.Followed();
        foreach (
            var path in new[]
            {
                $"/api/horses/{horse}/trends",
                $"/api/horses/{horse}/condition",
                $"/api/horses/{horse}/charts/condition.svg",
                $"/api/horses/{horse}/charts/condition.png",
                $"/api/horses/{horse}/charts/trend.svg?measure=slope-left&station=behind-shoulder",
                $"/horses/{horse}",
            }
        )
        {
            var answer = await client.GetAsync(path);
            var said = await answer.Content.ReadAsStringAsync();
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {answer.StatusCode} {said}");
        }

        static object Weight(double value) =>
            new
            {
                kind = "weight",
                value = value * 10,
                unit = "kg",
            };
    }

    [Theory]
    [InlineData("/api/plan?month=9999-12", HttpStatusCode.UnprocessableEntity)]
    [InlineData("/plan?month=9999-12", HttpStatusCode.OK)]
    [InlineData("/api/find?q=%00", HttpStatusCode.BadRequest)]
    [InlineData("/find?q=%00", HttpStatusCode.BadRequest)]
    [InlineData("/api/caseload?text=a%00b", HttpStatusCode.BadRequest)]
    [InlineData("/api/horses/HORSE/past?knownAt=0001-01-01", HttpStatusCode.NotFound)]
    [InlineData("/api/horses/HORSE/decision?asOf=9999-12-31", HttpStatusCode.OK)]
    [InlineData("/api/horses/HORSE/decision?asOf=0001-01-01", HttpStatusCode.OK)]
    [InlineData("/api/horses/HORSE/template.pdf?station=nowhere", HttpStatusCode.NotFound)]
    [InlineData("/?yard=not-an-id", HttpStatusCode.BadRequest)]
    [InlineData("/?yard=", HttpStatusCode.OK)]
    [InlineData("/horses/HORSE/compare?also=HORSE&also=x", HttpStatusCode.BadRequest)]
    [InlineData("/saddles?horse=a&horse=b", HttpStatusCode.BadRequest)]
    [InlineData("/api/caseload?state=99", HttpStatusCode.UnprocessableEntity)]
    [InlineData("/api/reminders?state=99", HttpStatusCode.UnprocessableEntity)]
    public async Task What_is_asked_for_beyond_any_calendar_or_letter_is_answered_in_words(string path, HttpStatusCode status)
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse();
        await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", SeparatePractices.Visit(ClientExtensions.Section(45, 41)));
        await practices.Followed();
        var answer = await client.GetAsync(path.Replace("HORSE", horse.ToString(), StringComparison.Ordinal));
        Assert.True(answer.StatusCode == status, $"{path}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("null")]
    [InlineData("""{"Item1":null,"Item2":"00000000-0000-0000-0000-000000000000"}""")]
    [InlineData("""{"Item1":"\u0000","Item2":"00000000-0000-0000-0000-000000000000"}""")]
    [InlineData("""{"Item1":"\ud800","Item2":"00000000-0000-0000-0000-000000000000"}""")]
    [InlineData("""{"Item1":"0001-01-01T00:00:00+14:00","Item2":"00000000-0000-0000-0000-000000000000"}""")]
    public async Task A_cursor_that_no_answer_gave_out_is_answered_in_words_wherever_a_list_goes_on(string place)
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse();
        var after = System.Buffers.Text.Base64Url.EncodeToString(System.Text.Encoding.UTF8.GetBytes(place));
        foreach (
            var path in new[]
            {
                "/api/horses?",
                "/api/people?",
                "/api/saddles?",
                "/api/caseload?",
                "/api/caseload?sort=last-visit&",
                "/api/reminders?",
                "/api/changes?",
                "/api/audit/seen?",
                "/api/audit/changed?",
                $"/api/horses/{horse}/timeline?",
            }
        )
        {
            var answer = await client.GetAsync($"{path}after={after}");
            Assert.True((int)answer.StatusCode is 200 or 422, $"{path}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        }

        foreach (var page in new[] { "/?", "/?sort=last-visit&", "/reminders?", "/saddles?", "/practice/audit?", $"/horses/{horse}?" })
        {
            var answer = await client.GetAsync($"{page}after={after}");
            Assert.True((int)answer.StatusCode < 500, $"{page}: {answer.StatusCode}");
        }
    }

    [Theory]
    [InlineData("PUT", "/api/practice", """{"name":"Without a time zone","reason":"r"}""")]
    [InlineData("PUT", "/api/reminder-rules", """{"rules":{"planning":{"start":"09:00:00","end":"17:00:00"}},"reason":"r"}""")]
    [InlineData("PUT", "/api/thresholds", """{"rules":{"thresholds":[null]},"reason":"r"}""")]
    [InlineData("PUT", "/api/thresholds", """{"rules":{"noise":null},"reason":"r"}""")]
    [InlineData("PUT", "/api/practice/protocol", """{"stations":[null]}""")]
    [InlineData("PUT", "/api/practice/gauges/bench", """{"name":"n","measure":"slope","unit":"deg","reason":"r","marks":[null]}""")]
    [InlineData("POST", "/api/saddles/SADDLE/work", """{"kind":"set","horseId":"HORSE","takenAt":"2026-06-01T00:00:00Z","done":[null]}""")]
    [InlineData("POST", "/api/saddles/SADDLE/pads", """{"horseId":"HORSE","pad":"felt","shims":[null]}""")]
    public async Task A_part_that_is_missing_anywhere_in_a_request_is_answered_in_words(string method, string path, string body) =>
        await What_a_practice_sets_lies_within_what_can_be_meant(method, path, body);

    private static async Task Unprocessable(HttpResponseMessage response, string what)
    {
        var said = await response.Content.ReadAsStringAsync();
        Assert.True(response.StatusCode == HttpStatusCode.UnprocessableEntity, $"{what}: {response.StatusCode} {said}");
    }

    /// <summary>
    /// The body is refused with this code at this place, nothing of it is written, and the other practice's read models follow.
    /// </summary>
    private async Task Refused(string what, string body, string code, string? place)
    {
        using var client = practices.Host.Client(SeparatePractices.Poisoned);
        var horse = await client.Horse();
        var response = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", body);
        await Unprocessable(response, what);
        var problem = await response.Json();
        Assert.Equal(code, problem.GetProperty("code").GetString());
        if (place is not null && code is not "unreadable")
            Assert.Equal(place, problem.GetProperty("place").GetString());
        Assert.Equal(1, (await client.GetFromJson($"/api/horses/{horse}")).GetProperty("version").GetInt32());
        await practices.NeighbourGoesOn();
    }

    private static JsonObject Json(object value) => JsonSerializer.SerializeToNode(value)!.AsObject();
}
