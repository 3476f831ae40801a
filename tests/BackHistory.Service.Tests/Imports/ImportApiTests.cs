using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests.Imports;

/// <summary>A practice brings its old spreadsheets in.</summary>
public sealed class ImportApiTests(RunningService service)
{
    [Fact]
    public async Task Thousands_of_lines_enter_and_running_the_same_file_again_adds_nothing()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..6];
        var table = new StringBuilder("Pferd,Geboren,Stock\n");
        for (var i = 0; i < 2000; i++)
            table.Append(System.Globalization.CultureInfo.InvariantCulture, $"Horse {mark}-{i},{1 + i % 28:00}.03.2015,1{50 + i % 20}\n");
        var plan = new
        {
            kind = "horses",
            columns = new
            {
                Pferd = "name",
                Geboren = "foaled",
                Stock = "height",
            },
            dateFormat = "dd.MM.yyyy",
            lengthUnit = "cm",
        };

        var first = await SendIn(client, table.ToString());
        var trial = await Post(client, $"/api/imports/{first}/try", plan);
        Assert.Equal(2000, trial.GetProperty("counts").GetProperty("entered").GetInt32());
        Assert.Equal((2000, 0, 0), await Enter(client, first, plan));
        var again = await SendIn(client, table.ToString());
        Assert.Equal((0, 2000, 0), await Enter(client, again, plan));
        await using var count = service.Database().CreateCommand("select count(*) from history.mt_doc_horse where data->>'name' like $1");
        count.Parameters.Add(new Npgsql.NpgsqlParameter { Value = $"Horse {mark}-%" });
        Assert.Equal(2000L, await count.ExecuteScalarAsync());
    }

    [Fact]
    public async Task Every_line_of_a_wild_spreadsheet_enters_whole_or_is_told_with_its_line_and_reason()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..6];
        var book = Workbook.Of([
            [Workbook.Text("Name"), Workbook.Text("Born"), Workbook.Text("Height")],
            [Workbook.Text($"A {mark}"), Workbook.Day(new DateOnly(2015, 3, 4)), Workbook.Text("64 in")],
            [Workbook.Text($"B {mark}"), Workbook.Text("4.3.2015"), Workbook.Text("162,5 cm")],
            [Workbook.Text($"C {mark}"), Workbook.Text("31.02.2015"), Workbook.Number(160)],
            [Workbook.Text($"D {mark}"), Workbook.Nothing, Workbook.Formula("80*2", 160)],
            [Workbook.Nothing, Workbook.Nothing, Workbook.Number(160)],
            [Workbook.Text($"A {mark}"), Workbook.Day(new DateOnly(2015, 3, 4)), Workbook.Number(163)],
            [Workbook.Text($"E {mark}"), Workbook.Nothing, Workbook.Number(16)],
        ]);
        var id = await SendIn(client, book);
        var bare = new
        {
            kind = "horses",
            columns = new
            {
                Name = "name",
                Born = "foaled",
                Height = "height",
            },
        };
        var asked = (await Post(client, $"/api/imports/{id}/try", bare))
            .GetProperty("questions")
            .EnumerateArray()
            .Select(q => q.GetProperty("about").GetString())
            .ToList();
        Assert.Equal(["dateFormat", "decimalMark", "lengthUnit"], asked);
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await client.Write(HttpMethod.Post, $"/api/imports/{id}/enter", bare)).StatusCode
        );

        var plan = new
        {
            bare.kind,
            bare.columns,
            dateFormat = "dd.MM.yyyy",
            decimalMark = ",",
            lengthUnit = "cm",
        };
        var trial = await Post(client, $"/api/imports/{id}/try", plan);
        string[] expected =
        [
            "2 enters  ",
            "3 enters  ",
            "4 refused not-a-date Born",
            "5 refused formula Height",
            "6 refused empty-cell Name",
            "7 already  ",
            "8 refused implausible-height Height",
        ];
        Assert.Equal(expected, trial.GetProperty("lines").EnumerateArray().Select(Say));
        Assert.Equal((2, 1, 4), await Enter(client, id, plan));
        Assert.Equal(expected, (await client.GetFromJson($"/api/imports/{id}/lines")).GetProperty("lines").EnumerateArray().Select(Say));
    }

    [Fact]
    public async Task Visits_and_readings_enter_as_one_visit_a_day_and_the_whole_import_is_taken_back_as_one_act()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..6];
        var horse = await client.Horse($"Old {mark}");
        var table =
            $"horse,date,method,station,left,right,kg\nOld {mark},2024-03-01,inclinometer,shoulder,41.5,42,\nOld "
            + $"{mark},2024-03-01,inclinometer,behind-shoulder,38,38.5,520\nOld "
            + $"{mark},2024-09-01,inclinometer,shoulder,40,41,\nNobody {mark},2024-09-01,inclinometer,shoulder,40,41,\nOld "
            + $"{mark},2031-09-01,inclinometer,shoulder,40,41,\n";
        var plan = new
        {
            kind = "visits",
            columns = new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["horse"] = "horse",
                ["date"] = "date",
                ["method"] = "method",
                ["station"] = "station",
                ["left"] = "read-slope-left",
                ["right"] = "read-slope-right",
                ["kg"] = "weight",
            },
            dateFormat = "yyyy-MM-dd",
            decimalMark = ".",
            weightUnit = "kg",
        };
        var id = await SendIn(client, table);
        Assert.Equal((3, 0, 2), await Enter(client, id, plan));
        var visits = await Eventually(client, $"/api/horses/{horse}/visits", v => v.GetArrayLength() == 2);
        Assert.Equal(5, visits[0].GetProperty("entries").GetArrayLength());
        Assert.Equal((0, 3, 2), await Enter(client, await SendIn(client, table), plan));

        Assert.Equal(HttpStatusCode.Accepted, (await client.Write(HttpMethod.Post, $"/api/imports/{id}/take-back", new { })).StatusCode);
        await Eventually(client, $"/api/imports/{id}", i => i.GetProperty("state").GetString() == "taken-back");
        await Eventually(
            client,
            $"/api/horses/{horse}/visits",
            v => v.GetArrayLength() == 2 && v.EnumerateArray().All(x => x.GetProperty("withdrawn").GetBoolean())
        );
        // What was taken back can be entered again, as new visits.
        Assert.Equal((3, 0, 2), await Enter(client, await SendIn(client, table), plan));
        await Eventually(
            client,
            $"/api/horses/{horse}/visits",
            v => v.EnumerateArray().Count(x => !x.GetProperty("withdrawn").GetBoolean()) == 2
        );
    }

    [Fact]
    public async Task The_people_of_a_spreadsheet_are_gone_with_its_file_when_it_is_taken_back()
    {
        using var client = service.Client();
        var name = $"Greta Example{Guid.NewGuid().ToString("N")[..6]}";
        var id = await SendIn(client, $"Who,Mail\n{name},greta@example.invalid\n");
        var plan = new { kind = "people", columns = new { Who = "name", Mail = "email" } };
        Assert.Equal((1, 0, 0), await Enter(client, id, plan));
        Assert.Equal(1L, await Found(name));
        await client.Write(HttpMethod.Post, $"/api/imports/{id}/take-back", new { });
        await Eventually(client, $"/api/imports/{id}", i => i.GetProperty("state").GetString() == "taken-back");
        Assert.Equal(0L, await Found(name));
        await using var file = service
            .Database()
            .CreateCommand("select count(*) from history.file_part where position($1::bytea in bytes) > 0");
        file.Parameters.Add(new Npgsql.NpgsqlParameter { Value = Encoding.UTF8.GetBytes(name) });
        Assert.Equal(0L, await file.ExecuteScalarAsync());
    }

    /// <summary>What the page and the interface would not keep of a person or a yard, a table does not bring in either.</summary>
    [Theory]
    [InlineData("people", "Who,Tel\nAnna Example,{0}\n", "phone", 41)]
    [InlineData("people", "Who,Tel\n{0},1\n", "name", 121)]
    [InlineData("yards", "Who,Tel\n{0},\n", "name", 121)]
    public async Task A_table_brings_in_nobody_whom_the_page_would_refuse(string kind, string table, string field, int letters)
    {
        using var client = service.Client();
        var id = await SendIn(client, string.Format(CultureInfo.InvariantCulture, table, new string('7', letters)));
        var columns = kind == "people" ? (object)new { Who = "name", Tel = "phone" } : new { Who = "name", Tel = "town" };
        Assert.Equal((0, 0, 1), await Enter(client, id, new { kind, columns }));
        var lines = await client.GetFromJson($"/api/imports/{id}/lines");
        Assert.Equal(
            field == "name" ? "Who" : "Tel",
            lines.GetProperty("lines").EnumerateArray().Single().GetProperty("column").GetString()
        );
    }

    [Theory]
    [InlineData("HH:mm", "dd.MM.yyyy")]
    [InlineData("dd.MM.yyyy", "")]
    public async Task A_form_of_dates_that_is_not_read_here_is_refused_by_its_place(string one, string other)
    {
        using var client = service.Client();
        var id = await SendIn(client, "Name,Born\nBramble,4.3.2015\n");
        var plan = new
        {
            kind = "horses",
            columns = new { Name = "name", Born = "foaled" },
            dateFormats = new[] { one, other },
        };
        foreach (var step in new[] { "try", "enter" })
        {
            var answer = await client.Write(HttpMethod.Post, $"/api/imports/{id}/{step}", plan);
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            var problem = await answer.Json();
            Assert.Equal("no-such-date-form", problem.GetProperty("code").GetString());
            Assert.Equal("dateFormats", problem.GetProperty("place").GetString());
        }
    }

    [Fact]
    public async Task Another_practice_sees_nothing_of_an_import()
    {
        using var mine = service.Client();
        using var theirs = service.Client(RunningService.Theirs);
        var id = await SendIn(mine, "Name\nSecret\n");
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.GetAsync($"/api/imports/{id}")).StatusCode);
        Assert.Equal(
            HttpStatusCode.NotFound,
            (
                await theirs.Write(HttpMethod.Post, $"/api/imports/{id}/try", new { kind = "horses", columns = new { Name = "name" } })
            ).StatusCode
        );
    }

    private async Task<object?> Found(string name)
    {
        await using var count = service.Database().CreateCommand("select count(*) from history.mt_doc_person where data->>'name' = $1");
        count.Parameters.Add(new Npgsql.NpgsqlParameter { Value = name });
        return await count.ExecuteScalarAsync();
    }

    private static string Say(JsonElement line)
    {
        string Of(string name) => line.TryGetProperty(name, out var value) ? value.GetString()! : "";
        return $"{line.GetProperty("line")} {Of("verdict")} {Of("code")} {Of("column")}";
    }

    internal static Task<Guid> SendIn(HttpClient client, string table) => SendIn(client, Encoding.UTF8.GetBytes(table));

    private static async Task<Guid> SendIn(HttpClient client, byte[] bytes)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/imports?name=old") { Content = new ByteArrayContent(bytes) };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
        var response = await client.SendAsync(request);
        Assert.True(response.StatusCode == HttpStatusCode.Created, await response.Content.ReadAsStringAsync());
        return (await response.Json()).GetProperty("id").GetGuid();
    }

    internal static async Task<JsonElement> Post(HttpClient client, string path, object body)
    {
        var response = await client.Write(HttpMethod.Post, path, body);
        Assert.True(response.IsSuccessStatusCode, $"{path}: {response.StatusCode} {await response.Content.ReadAsStringAsync()}");
        return await response.Json();
    }

    internal static async Task<(int Entered, int Already, int Refused)> Enter(HttpClient client, Guid id, object plan)
    {
        var response = await client.Write(HttpMethod.Post, $"/api/imports/{id}/enter", plan);
        Assert.True(response.StatusCode == HttpStatusCode.Accepted, await response.Content.ReadAsStringAsync());
        var counts = (await Eventually(client, $"/api/imports/{id}", i => i.GetProperty("state").GetString() == "entered")).GetProperty(
            "counts"
        );
        return (
            counts.GetProperty("entered").GetInt32(),
            counts.GetProperty("already").GetInt32(),
            counts.GetProperty("refused").GetInt32()
        );
    }

    private static async Task<JsonElement> Eventually(HttpClient client, string path, Func<JsonElement, bool> good)
    {
        for (var i = 0; ; i++)
        {
            using var response = await client.GetAsync(path);
            if (response.IsSuccessStatusCode && await response.Json() is var answer && good(answer))
                return answer;
            Assert.True(i < 1200, $"{path} never became so: {await response.Content.ReadAsStringAsync()}");
            await Task.Delay(100);
        }
    }
}
