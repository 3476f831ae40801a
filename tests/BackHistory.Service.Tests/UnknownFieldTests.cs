using System.Net;
using System.Text.Json.Nodes;

namespace BackHistory.Service.Tests;

/// <summary>A field that is not read would be lost in silence: it is refused.</summary>
public sealed class UnknownFieldTests(RunningService service)
{
    /// <summary>A member that is worked out from others is no field, though an answer may have shown it.</summary>
    [Fact]
    public async Task A_threshold_that_is_sent_where_it_is_only_worked_out_is_refused_and_nothing_is_saved()
    {
        using var client = service.Client(RunningService.Changing);
        var before = JsonNode.Parse(await client.GetStringAsync("/api/thresholds"))!;
        var rules = before["rules"]!.DeepClone();
        rules["thresholds"]![0]!["threshold"] = new JsonObject { ["amount"] = 99 };

        var refused = await client.Write(
            HttpMethod.Put,
            "/api/thresholds",
            new JsonObject { ["rules"] = rules, ["reason"] = "A page of an earlier release." }.ToJsonString()
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains("threshold", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(
            before["rulesVersion"]!.GetValue<int>(),
            JsonNode.Parse(await client.GetStringAsync("/api/thresholds"))!["rulesVersion"]!.GetValue<int>()
        );
    }

    [Theory]
    [InlineData("/api/thresholds")]
    [InlineData("/api/reminder-rules")]
    public async Task Rules_that_were_read_are_taken_back_as_they_are(string address)
    {
        using var client = service.Client(RunningService.Changing);
        var read = JsonNode.Parse(await client.GetStringAsync(address))!["rules"]!.DeepClone();
        var saved = await client.Write(
            HttpMethod.Put,
            address,
            new JsonObject { ["rules"] = read, ["reason"] = "Nothing changed." }.ToJsonString()
        );
        Assert.True(saved.IsSuccessStatusCode, await saved.Content.ReadAsStringAsync());
    }

    [Theory]
    [InlineData("/api/practice/learned")]
    [InlineData("/api/read-models/rebuild")]
    [InlineData("/api/people/PERSON/erase")]
    public async Task A_field_that_is_sent_where_nothing_is_asked_for_is_refused_and_nothing_is_done(string address)
    {
        using var client = service.Client(RunningService.Changing);
        var person = await service.Person(RunningService.Changing, "Not To Be Erased");
        var refused = await client.Write(
            HttpMethod.Post,
            address.Replace("PERSON", person.ToString(), StringComparison.Ordinal),
            """{"x":1}"""
        );
        var said = await refused.Content.ReadAsStringAsync();
        Assert.True(refused.StatusCode == HttpStatusCode.UnprocessableEntity, $"{refused.StatusCode} {said}");
        Assert.Contains("there is no field \u0027x\u0027 here", said, StringComparison.Ordinal);
        Assert.Contains("Not To Be Erased", await client.GetStringAsync("/api/people"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"takenAt":"2026-05-01T10:00:00Z","method":"m","ENTRIES":[ENTRY],"entries":[]}""")]
    [InlineData("""{"takenAt":"2026-05-01T10:00:00Z","method":"m","entries":[{"kind":"weight","unit":"kg","value":500,"value":510}]}""")]
    [InlineData(
        """{"takenAt":"2026-05-01T10:00:00Z","method":"m","conditions":{"levelGround":true,"levelGround":false},"entries":[ENTRY]}"""
    )]
    public async Task A_field_that_stands_in_an_object_twice_is_refused_and_nothing_is_saved(string body)
    {
        using var client = service.Client(RunningService.Changing);
        var horse = await client.Horse();
        const string Entry = """{"kind":"weight","unit":"kg","value":500}""";
        var refused = await client.Write(
            HttpMethod.Post,
            $"/api/horses/{horse}/visits",
            body.Replace("ENTRY]", Entry + "]", StringComparison.Ordinal)
        );
        var said = await refused.Content.ReadAsStringAsync();
        Assert.True(refused.StatusCode == HttpStatusCode.UnprocessableEntity, $"{refused.StatusCode} {said}");
        Assert.Contains("twice", said, StringComparison.Ordinal);
        Assert.DoesNotContain("BackHistory", said, StringComparison.Ordinal);
        Assert.Equal(1, (await (await client.GetAsync($"/api/horses/{horse}")).Json()).GetProperty("version").GetInt32());
    }

    [Theory]
    [InlineData("""{"name":"Bramble","colour":1}""")]
    [InlineData("""{"name":"Bramble","heightMm":"tall"}""")]
    [InlineData("""{"name":["Bramble"]}""")]
    public async Task A_refused_body_is_told_without_the_names_of_this_services_classes(string body)
    {
        using var client = service.Client(RunningService.Changing);
        var said = await (await client.Write(HttpMethod.Post, "/api/horses", body)).Content.ReadAsStringAsync();
        Assert.Contains("unreadable", said, StringComparison.Ordinal);
        foreach (var inner in new[] { ".NET", "BackHistory", "System." })
            Assert.DoesNotContain(inner, said, StringComparison.Ordinal);
    }
}
