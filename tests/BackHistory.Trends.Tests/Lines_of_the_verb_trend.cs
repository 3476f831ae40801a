using System.Globalization;
using System.Text.Json.Nodes;
using BackHistory.Trends.Lines;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Tests;

public class Lines_of_the_verb_trend
{
    static JsonObject Answer(string line) => (JsonObject)JsonNode.Parse(TrendLine.Answer(line, 7).Json)!;

    static string? Code(string line)
    {
        var (json, refused) = TrendLine.Answer(line, 7);
        var answer = (JsonObject)JsonNode.Parse(json)!;
        Assert.Equal(refused, answer["refused"] is not null);
        return (string?)answer["refused"]?["code"];
    }

    const string Two = """ "points":[{"t":"2026-01-10","y":31.2},{"t":"2026-03-12","y":32.9}] """;

    [Theory]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31.2}]""", "unreadable")]
    [InlineData("""[1]""", "unreadable")]
    [InlineData("""{"sd":1.5,"points":[{"t":"2026-01-10","y":31.2}]}""", "unreadable")]
    [InlineData("""{"id":3,"sd":1.5,"points":[{"t":"2026-01-10","y":31.2}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":{}}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[5]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10"}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"y":3}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":"31"}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":"1.5","points":[{"t":"2026-01-10","y":31}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":20260110,"y":31}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31,"by":4}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31,"note":"x"}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31}],"colour":"bay"}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"sd":2,"points":[{"t":"2026-01-10","y":31}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31}],"q":-1}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31}],"threshold":-1}""", "unreadable")]
    [InlineData("""{"id":"a","sd":NaN,"points":[{"t":"2026-01-10","y":31}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":null}]}""", "not-finite")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":1e999}]}""", "not-finite")]
    [InlineData("""{"id":"a","sd":null,"points":[{"t":"2026-01-10","y":31}]}""", "not-finite")]
    [InlineData("""{"id":"a","sd":1.5,"points":[{"t":"2026-01-10","y":31}],"q":null}""", "not-finite")]
    [InlineData("""{"id":"a","sd":1.5,"points":[]}""", "no-points")]
    [InlineData("""{"id":"a","points":[{"t":"2026-01-10","y":31}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":0,"points":[{"t":"2026-01-10","y":31}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":-1,"points":[{"t":"2026-01-10","y":31,"sd":1}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":31,"sd":-2}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":1,"visitSd":-1,"points":[{"t":"2026-01-10","y":31}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":1,"personSd":-1,"points":[{"t":"2026-01-10","y":31}]}""", "bad-sd")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"2026-02-30","y":31}]}""", "bad-date")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"10.01.2026","y":31}]}""", "bad-date")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"2026-01-10T10:00:00","y":31}]}""", "bad-date")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"","y":31}]}""", "bad-date")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":31}],"at":"tomorrow"}""", "bad-date")]
    [InlineData("""{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":31}],"baseline":null}""", "bad-date")]
    public void A_line_that_cannot_be_answered_says_why(string line, string code) => Assert.Equal(code, Code(line));

    [Theory]
    [InlineData("""{"id":"a","sd":-1,"points":[{"t":"never","y":null,"odd":1}]}""", "unreadable")]
    [InlineData("""{"id":"a","sd":-1,"points":[{"t":"never","y":null}]}""", "not-finite")]
    [InlineData("""{"id":"a","sd":-1,"points":[],"at":"never"}""", "no-points")]
    [InlineData("""{"id":"a","sd":-1,"points":[{"t":"never","y":2}]}""", "bad-sd")]
    public void Of_several_faults_the_first_in_the_order_of_the_codes_is_told(string line, string code) => Assert.Equal(code, Code(line));

    [Fact]
    public void A_refused_line_is_known_by_its_id_or_by_its_number()
    {
        Assert.Equal("a", (string?)Answer("""{"id":"a","sd":1.5}""")["id"]);
        var broken = Answer("""{"id":"a",""");
        Assert.True(broken.ContainsKey("id"));
        Assert.Null(broken["id"]);
        Assert.Equal(7, (int)broken["line"]!);
        Assert.Equal(7, (int)Answer("""{"id":"\ud800","sd":1,"points":[]}""")["line"]!);
    }

    [Fact]
    public void Numbers_beyond_computing_are_refused_and_never_answered_as_nonsense() =>
        Assert.Equal("not-finite", Code("""{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":-1.7e308},{"t":"2026-02-10","y":1.7e308}]}"""));

    [Fact]
    public void More_points_than_a_line_may_hold_are_refused_at_once() =>
        Assert.Equal(
            "unreadable",
            Code("{\"id\":\"a\",\"sd\":1,\"points\":[" + string.Join(',', Enumerable.Repeat("""{"t":"2026-01-10","y":1}""", 10_001)) + "]}")
        );

    [Fact]
    public void Date_times_with_offset_are_instants_and_share_their_utc_day()
    {
        const string instants =
            """[{"t":"2026-01-10T01:30:00+02:00","y":31},{"t":"2026-01-09T10:00Z","y":32},{"t":"2026-03-12T12:00:00.5-05:00","y":33}]""";
        var answer = Answer($$"""{"id":"a","sd":1,"points":{{instants}},"q":0,"baseline":"2026-01-09"}""");
        // Both are of 9 January in UTC: one visit, of which the mean is 31.5; no pair of that day counts.
        Assert.Equal(1.5, (double)answer["twoVisits"]!["change"]!, 1e-12);
        Assert.Equal(2, (double)answer["mannKendall"]!["s"]!);
    }

    [Theory]
    [InlineData("2026-01-10T00:00:00Z", true)]
    [InlineData("2026-01-10t00:00z", true)]
    [InlineData("2026-01-10 01:00:00+01:00", true)]
    [InlineData("2026-01-09T19:00:00.000000000-05:00", true)]
    [InlineData("2026-01-10T00:00:00+0000", false)]
    [InlineData("2026-01-10T00:00:60Z", false)]
    [InlineData("2026-01-10T25:00Z", false)]
    [InlineData("2026-01-10T00:00:00.Z", false)]
    [InlineData("2026-01-10T00:00:00.12x456789Z", false)]
    [InlineData(" 2026-01-10", false)]
    [InlineData("26-01-10", false)]
    public void Dates_and_instants_are_read_as_the_standard_writes_them(string text, bool good)
    {
        Assert.Equal(good, Instant.TryParse(text, out var day));
        if (good)
            Assert.Equal(Days.DayNumber(new DateOnly(2026, 1, 10)), day, 1e-9);
    }

    [Fact]
    public void Without_baseline_or_threshold_what_needs_them_is_null()
    {
        var neither = Answer($$"""{"id":"a","sd":1.5,{{Two}}}""");
        Assert.Null(neither["sinceBaseline"]);
        Assert.Null(neither["forecast"]);
        Assert.Equal(1.7, (double)neither["twoVisits"]!["change"]!, 1e-12);
        var baseline = Answer($$"""{"id":"a","sd":1.5,{{Two}},"baseline":"2026-01-10"}""");
        Assert.Equal(1.7, (double)baseline["sinceBaseline"]!["change"]!, 1e-9);
        Assert.Null(baseline["sinceBaseline"]!["p"]);
        Assert.Null(baseline["sinceBaseline"]!["state"]);
        Assert.Null(baseline["forecast"]);
        var threshold = Answer($$"""{"id":"a","sd":1.5,{{Two}},"threshold":3}""");
        Assert.Null(threshold["sinceBaseline"]);
        Assert.Null(threshold["forecast"]);
    }

    [Fact]
    public void Of_one_day_only_the_level_is_known()
    {
        var answer = Answer(
            """{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":30},{"t":"2026-01-10","y":32}]"""
                + ""","q":0.1,"at":"2026-01-10","baseline":"2026-01-10","threshold":3}"""
        );
        Assert.Equal(31, (double)answer["level"]!, 1e-12);
        Assert.Equal(Math.Sqrt(0.5), (double)answer["levelSd"]!, 1e-12);
        foreach (var (field, value) in answer)
            if (field is not ("id" or "level" or "levelSd"))
                Assert.Null(value);
        Assert.Null(Answer("""{"id":"a","sd":1,"points":[{"t":"2026-01-10","y":30}],"at":"2026-01-11"}""")["level"]);
    }

    [Fact]
    public void On_the_day_of_the_baseline_nothing_has_changed()
    {
        var since = Answer($$"""{"id":"a","sd":1.5,{{Two}},"at":"2026-01-10","baseline":"2026-01-10","threshold":0}""")["sinceBaseline"]!;
        Assert.Equal(
            (0.0, 0.0, 0.0, "steady"),
            ((double)since["change"]!, (double)since["sd"]!, (double)since["p"]!, (string)since["state"]!)
        );
    }

    [Theory]
    [InlineData("2026-01-09", null)] // before every visit
    [InlineData("2026-01-31", 0.0)] // the second visit minus the one nearest the baseline: itself
    [InlineData("2026-03-31", 2.0)]
    public void Two_visits_are_the_last_before_the_date_and_the_one_nearest_the_baseline(string at, double? change)
    {
        const string points = """[{"t":"2026-01-10","y":30},{"t":"2026-01-30","y":31},{"t":"2026-03-01","y":33}]""";
        // 20 January lies ten days from both of the first visits: the earlier stands.
        var earlier = Answer($$"""{"id":"a","sd":1,"points":{{points}},"at":"2026-03-31","baseline":"2026-01-20"}""");
        Assert.Equal(3, (double)earlier["twoVisits"]!["change"]!, 1e-12);
        var answer = Answer($$"""{"id":"a","sd":1,"points":{{points}},"at":"{{at}}","baseline":"2026-01-25"}""");
        if (change is null or 0)
            Assert.Null(answer["twoVisits"]);
        else
            Assert.Equal(change.Value, (double)answer["twoVisits"]!["change"]!, 1e-12);
    }

    [Fact]
    public void Other_hands_count_twice_between_two_visits_and_the_same_hands_not_at_all()
    {
        double Mdc(string first, string second) =>
            (double)
                Answer(
                    $$"""{"id":"a","sd":1,"visitSd":2,"personSd":3"""
                        + $$""","points":[{"t":"2026-01-10","y":30{{first}}},{"t":"2026-03-01","y":33{{second}}}]}"""
                )["twoVisits"]!["minimalDetectable"]!;
        Assert.Equal(1.96 * Math.Sqrt(2 + 8), Mdc(""","by":"ann" """, ""","by":"ann" """), 1e-12);
        Assert.Equal(1.96 * Math.Sqrt(2 + 8 + 18), Mdc(""","by":"ann" """, ""","by":"bob" """), 1e-12);
        Assert.Equal(1.96 * Math.Sqrt(2 + 8 + 18), Mdc("", ""), 1e-12);
    }

    [Fact]
    public void The_forecast_starts_from_the_later_of_the_date_and_the_last_visit()
    {
        var forecast = Answer(
            """{"id":"a","sd":0.5,"points":[{"t":"2026-01-01","y":30},{"t":"2026-03-02","y":33},{"t":"2026-05-01","y":36}]"""
                + ""","q":1e-12,"at":"2026-02-01","baseline":"2026-01-01","threshold":8.99}"""
        )["forecast"]!;
        var dates = new[] { "from", "reached", "to" }
            .Select(k => DateOnly.ParseExact((string)forecast[k]!, "yyyy-MM-dd", CultureInfo.InvariantCulture))
            .ToArray();
        Assert.True(dates[0] >= new DateOnly(2026, 5, 1));
        // 0.05 a day: 8.99 is passed on the 180th day.
        Assert.Equal(new DateOnly(2026, 6, 30), dates[1]);
        Assert.True(dates[0] < dates[1] && dates[1] < dates[2]);
    }

    [Fact]
    public void Beyond_a_year_nothing_is_foretold()
    {
        var forecast = Answer(
            """
            {"id":"a","sd":0.1,"points":[{"t":"2025-01-01","y":30},{"t":"2025-12-31","y":30}],"q":0,"baseline":"2025-01-01","threshold":9}
            """
        )["forecast"]!;
        Assert.All(new[] { "from", "reached", "to" }, k => Assert.Null(forecast[k]));
    }

    [Fact]
    public void The_forecast_at_the_end_of_the_calendar_does_not_fall_off_it() =>
        Assert.Null(
            Answer(
                """{"id":"a","sd":1,"points":[{"t":"9999-12-01","y":1},{"t":"9999-12-31","y":1}]"""
                    + ""","q":0,"baseline":"9999-12-01","threshold":500}"""
            )["forecast"]!["to"]
        );

    [Fact]
    public void An_answer_reads_the_same_in_every_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            var line = $$"""{"id":"a","sd":1.5,{{Two}},"baseline":"2026-01-10","threshold":3}""";
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("en-GB");
            var english = TrendLine.Answer(line, 1).Json;
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(english, TrendLine.Answer(line, 1).Json);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
