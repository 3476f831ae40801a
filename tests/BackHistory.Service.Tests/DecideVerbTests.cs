using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using BackHistory.Service.Verbs;
using BackHistory.Shape;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>From tracings to the decision on a horse without a database: the contract of <c>decide</c> and <c>learn</c>.</summary>
public sealed class DecideVerbTests
{
    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    private static readonly string[] AfterAYear = ["2025-03-01", "2025-06-01", "2025-09-01", "2025-12-01"];

    [Fact]
    public async Task A_back_that_opens_at_two_stations_is_told_with_the_change_that_its_tree_needs()
    {
        var horse = Horse("opens", AfterAYear, visit => 47 - Math.Max(0, 5 * (visit - 1)));
        var said = (await Decide(horse)).Single();

        Assert.Equal("refit", (string?)said["state"]);
        Assert.InRange((double)said["p"]!, 0.9, 1);
        Assert.Null(said["caution"]);
        // Ten degrees flatter on both sides.
        Assert.InRange((double)said["proposal"]!["left"]!["deg"]!, -12, -8);
        Assert.InRange((double)said["proposal"]!["right"]!["deg"]!, -12, -8);
        Assert.Contains("Check the saddle", (string)said["finding"]!, StringComparison.Ordinal);
        var slope = said["measures"]!.AsArray().Single(m => (string?)m!["measure"] == "slope-left" && (string?)m["station"] == "mid-back")!;
        Assert.InRange((double)slope["change"]!, -12, -7);
        Assert.Equal(4, (double)slope["threshold"]!);
        Assert.Equal([90, 180, 365], said["forecast"]!.AsArray().Select(f => (int)f!["days"]!));
        Assert.Equal(AfterAYear, said["byVisit"]!.AsArray().Select(v => (string?)v!["on"]));
        // Nobody looks back from later: at the second visit nothing had moved.
        Assert.Equal(["unknown", "steady"], said["byVisit"]!.AsArray().Take(2).Select(v => (string?)v!["state"]));
        Assert.Equal("refit", (string?)said["byVisit"]!.AsArray()[^1]!["state"]);
    }

    [Fact]
    public async Task A_horse_that_stays_as_it_was_is_steady_and_says_so()
    {
        var said = (await Decide(Horse("steady", AfterAYear, _ => 47))).Single();
        Assert.Equal("steady", (string?)said["state"]);
        Assert.InRange((double)said["p"]!, 0, 0.1);
        Assert.NotEqual("", (string?)said["finding"]);
        Assert.Empty(said["again"]!.AsArray());
    }

    [Fact]
    public async Task A_later_day_is_asked_for_and_what_came_after_an_earlier_one_is_not_known()
    {
        var horse = Horse("opens", AfterAYear, visit => 47 - Math.Max(0, 5 * (visit - 1)));
        horse["at"] = "2025-06-15";
        var then = (await Decide(horse)).Single();
        Assert.Equal("steady", (string?)then["state"]);
        Assert.Equal(2, then["byVisit"]!.AsArray().Count);
        horse["at"] = "2026-06-01";
        var later = (await Decide(horse)).Single();
        Assert.Equal("refit", (string?)later["state"]);
        Assert.Equal(4, later["byVisit"]!.AsArray().Count);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("2024-11-01")]
    public async Task Without_a_fit_or_a_visit_near_it_nothing_is_known(string? fit)
    {
        var horse = Horse("no baseline", AfterAYear, _ => 47);
        horse["fit"] = fit;
        var said = (await Decide(horse)).Single();
        Assert.Equal("unknown", (string?)said["state"]);
        Assert.Null(said["p"]);
        Assert.NotEqual("", (string?)said["finding"]);
    }

    [Fact]
    public async Task Earlier_visits_do_not_stand_for_a_fit_that_was_too_long_after_them()
    {
        var horse = Horse("set between", AfterAYear, _ => 47);
        horse["fit"] = "2025-07-15";
        var said = (await Decide(horse)).Single();
        Assert.Equal(("unknown", true), ((string?)said["state"], said["p"] is null));
    }

    [Fact]
    public async Task All_that_leans_alike_is_measured_as_lean_and_not_told_as_a_change()
    {
        var horse = Horse("leans", AfterAYear[..3], _ => 47, lean: visit => visit == 2 ? 5 : 0);
        var said = (await Decide(horse)).Single();
        Assert.InRange((double)said["lean"]!["deg"]!, 4, 6);
        Assert.NotEqual("refit", (string?)said["state"]);
        Assert.Null(said["caution"]);
        Assert.Equal("leans", (string?)said["again"]!.AsArray().Single(a => a!["station"] is null)!["why"]);
        // Against the visit of the fit, at each visit.
        Assert.InRange((double)said["byVisit"]!.AsArray()[1]!["lean"]!["deg"]!, -0.5, 0.5);
    }

    [Fact]
    public async Task A_reading_that_says_something_else_than_the_tracing_is_named_by_its_station()
    {
        var horse = Horse("reads", AfterAYear[..2], _ => 47);
        horse["visits"]!.AsArray()[1]!["readings"] = new JsonArray(
            new JsonObject
            {
                ["measure"] = "read-slope-left",
                ["station"] = "mid-back",
                ["value"] = 56,
            }
        );
        var said = (await Decide(horse)).Single();
        Assert.Contains(said["again"]!.AsArray(), a => (string?)a!["station"] == "mid-back" && (string?)a["why"] == "disagrees");
    }

    [Fact]
    public async Task Other_rules_judge_otherwise()
    {
        var horse = Horse("opens", AfterAYear, visit => 47 - Math.Max(0, 5 * (visit - 1)));
        var shipped = (await Decide(horse)).Single();
        horse["rules"] = new JsonObject { ["thresholds"] = new JsonArray(new JsonObject { ["measure"] = "slope-left", ["amount"] = 40 }) };
        var lax = (await Decide(horse)).Single();
        Assert.True((double)lax["p"]! < 0.01 && (double)shipped["p"]! > 0.9, $"{lax["p"]} against {shipped["p"]}");
        Assert.All(lax["measures"]!.AsArray(), m => Assert.Equal("slope-left", (string?)m!["measure"]));
    }

    [Fact]
    public async Task What_is_learned_is_taken_back()
    {
        var horses = Enumerable
            .Range(0, 12)
            .Select(i => Horse($"h{i}", AfterAYear, visit => 47 - (i % 3 == 0 ? 3 * visit : 0) + 0.3 * ((i * 7 + visit * 5) % 4)))
            .ToArray();
        var learned = (await Call("learn", horses)).Single();
        Assert.Equal(12, (int)learned["priors"]!["movement"]!["periods"]!);

        var horse = Horse("asked", AfterAYear, visit => 47 - 1.5 * visit);
        var shipped = (await Decide(horse)).Single();
        horse["priors"] = learned["priors"]!.DeepClone();
        var taught = (await Decide(horse)).Single();
        Assert.NotEqual((double)shipped["p"]!, (double)taught["p"]!);
    }

    [Theory]
    [InlineData("""{"id":"x","visits":[{"on":"2025-03-01","colour":"bay"}]}""", "unreadable", "visits[0]")]
    [InlineData("""{"id":"x"}""", "unreadable", "visits")]
    [InlineData("""{"id":"x","visits":[{"on":"yesterday"}]}""", "bad-date", "visits[0]")]
    [InlineData("""{"id":"x","visits":[{"on":"2025-03-01","weight":1e999}]}""", "not-finite", "weight")]
    [InlineData("""{"id":"x","visits":[],"rules":{"thresholds":[{"measure":"slope-left","amount":-4}]}}""", "unreadable", "rules")]
    [InlineData("""{"id":"x","visits":[],"history":[{"kind":"holiday","from":"2025-03-01"}]}""", "unreadable", "history[0]")]
    public async Task A_line_that_cannot_be_read_is_refused_with_its_place(string line, string code, string place)
    {
        foreach (var verb in new[] { "decide", "learn" })
        {
            var (status, answers) = await Run(verb, line);
            Assert.Equal(1, status);
            Assert.Equal("x", (string?)answers[0]["id"]);
            Assert.Equal(code, (string?)answers[0]["refused"]!["code"]);
            Assert.Contains(place, (string)answers[0]["refused"]!["message"]!, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_refused_tracing_refuses_its_line_with_its_place()
    {
        var horse = Horse("short", AfterAYear, _ => 47);
        var points = horse["visits"]!.AsArray()[2]!["tracings"]!.AsArray()[1]!["points"]!.AsArray();
        while (points.Count > 8)
            points.RemoveAt(0);
        var (status, answers) = await Run("decide", horse.ToJsonString());
        Assert.Equal(1, status);
        Assert.StartsWith("visits[2].tracings[1]: ", (string)answers[0]["refused"]!["message"]!, StringComparison.Ordinal);
    }

    /// <param name="slope">Of both flanks at every station, degrees, by visit.</param>
    /// <param name="lean">Clockwise, degrees, of all tracings of a visit.</param>
    private static JsonObject Horse(string id, string[] days, Func<int, double> slope, Func<int, double>? lean = null)
    {
        var visits = new JsonArray();
        for (var v = 0; v < days.Length; v++)
        {
            var turned = lean?.Invoke(v) ?? 0;
            visits.Add(
                new JsonObject
                {
                    ["on"] = days[v],
                    ["by"] = "a",
                    ["method"] = "flexible-curve",
                    ["tracings"] = new JsonArray([.. Stations.Select(s => Tracing(Backs.Section(slope(v), slope(v), s), turned))]),
                    ["weight"] = 540,
                    ["condition"] = 5.5,
                }
            );
        }

        return new JsonObject
        {
            ["id"] = id,
            ["fit"] = days[0],
            ["born"] = "2014-05-01",
            ["visits"] = visits,
            ["history"] = new JsonArray(
                new JsonObject
                {
                    ["kind"] = "work",
                    ["from"] = "2024-01-01",
                    ["to"] = null,
                }
            ),
        };
    }

    private static JsonObject Tracing(Tracing section, double lean)
    {
        var (sin, cos) = Math.SinCos(-lean * Math.PI / 180);
        return new JsonObject
        {
            ["kind"] = "cross-section",
            ["station"] = section.Station,
            ["unit"] = "mm",
            ["yAxis"] = "up",
            ["points"] = new JsonArray([.. section.Points.Select(p => new JsonArray(p.X * cos - p.Y * sin, p.X * sin + p.Y * cos))]),
            ["midline"] = new JsonArray(0, 0),
            ["noise"] = 0,
        };
    }

    private static Task<List<JsonNode>> Decide(JsonObject horse) => Call("decide", horse);

    private static async Task<List<JsonNode>> Call(string verb, params JsonObject[] horses)
    {
        var (status, answers) = await Run(verb, string.Join('\n', horses.Select(h => h.ToJsonString())));
        Assert.True(status == 0, string.Join('\n', answers.Select(a => a.ToJsonString())));
        return answers;
    }

    private static async Task<(int Status, List<JsonNode> Answers)> Run(string verb, string lines)
    {
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(lines));
        using var output = new MemoryStream();
        await using var error = new StringWriter(CultureInfo.InvariantCulture);
        var status = await Verb.Run([verb, "-"], input, output, error);
        Assert.Equal("", error.ToString());
        return (
            status,
            [
                .. Encoding
                    .UTF8.GetString(output.ToArray())
                    .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                    .Select(l => JsonNode.Parse(l)!),
            ]
        );
    }
}
