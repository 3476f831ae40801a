using System.Net;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>Names that nobody can read, addresses that reach nobody, keys that nobody can type: refused in words.</summary>
public sealed class NameAndAddressTests(RunningService service)
{
    public static TheoryData<string, string, string, string> Entries =>
        new()
        {
            { "POST", "/api/horses", """{"name":"\u202e\u200b"}""", "unreadable" },
            { "POST", "/api/horses", """{"name":"\u2028\u00ad\u2060"}""", "no-name" },
            { "POST", "/api/saddles", """{"label":"\u200b\u200f"}""", "no-label" },
            { "POST", "/api/people", """{"name":"\u202e \u2066","role":"owner"}""", "unreadable" },
            { "POST", "/api/yards", """{"name":"\ufeff"}""", "no-name" },
            { "POST", "/api/people", """{"name":"Anna","role":"owner","language":"xx"}""", "unknown-language" },
            { "POST", "/api/people", """{"name":"Anna","role":"owner","email":"anna@localhost"}""", "bad-email" },
            { "POST", "/api/people", """{"name":"Anna","role":"owner","email":"=?utf-8?q?anna?=@example.org"}""", "bad-email" },
            { "POST", "/api/people", $$"""{"name":"Anna","role":"owner","phone":"{{new string('1', 5000)}}"}""", "long-phone" },
            { "PUT", "/api/practice/gauges/%E2%80%AEbench", Gauge, "no-key" },
            { "PUT", "/api/practice/gauges/be%E2%80%A8nch", Gauge, "no-key" },
            { "PUT", "/api/practice/gauges/%F0%9F%90%B4", Gauge, "no-key" },
            { "PUT", "/api/practice/gauges/Bench%201", Gauge, "no-key" },
        };

    private const string Gauge = """
        {"name":"Bench","measure":"slope","unit":"deg","reason":"r",
        "marks":[{"name":"1","position":0,"value":30},{"name":"2","position":1,"value":40}]}
        """;

    [Theory]
    [MemberData(nameof(Entries))]
    public async Task A_name_an_address_or_a_key_that_is_none_is_refused(string method, string path, string body, string code)
    {
        using var client = service.Client(RunningService.Changing);
        var refused = await client.Write(new HttpMethod(method), path, body);
        var said = await refused.Content.ReadAsStringAsync();
        Assert.True(refused.StatusCode == HttpStatusCode.UnprocessableEntity, $"{path}: {refused.StatusCode} {said}");
        Assert.Equal(code, (await refused.Json()).GetProperty("code").GetString());
    }

    [Theory]
    [InlineData("/api/horses", """{"name":"\u0622\u0630\u0631\u200c\u06af\u0648\u0646"}""")]
    [InlineData(
        "/api/people",
        """{"name":"Anna","role":"owner","language":"de","phone":"+49 30 1234567 (ext. 12)","email":"anna@example.org"}"""
    )]
    public async Task A_name_that_joins_its_letters_and_an_ordinary_address_are_taken(string path, string body)
    {
        using var client = service.Client(RunningService.Changing);
        var taken = await client.Write(HttpMethod.Post, path, body);
        Assert.True(taken.StatusCode == HttpStatusCode.Created, await taken.Content.ReadAsStringAsync());
    }

    [Theory]
    [InlineData("""[{"at":[1,1],"mm":[0,0]},{"at":[1,1],"mm":[0,0]}]""", "one place")]
    [InlineData("""[{"at":[1,1],"mm":[0,0]},{"at":[8,1],"mm":[0,0]}]""", "one place")]
    [InlineData("""[{"at":[1,1],"mm":[0,0]},{"at":[8,1],"mm":[1e308,0]}]""", "1E+308")]
    public async Task A_calibration_without_a_scale_is_refused_in_few_words(string known, string told)
    {
        using var client = service.Client(RunningService.Changing);
        var horse = await client.Horse();
        var section = System.Text.Json.JsonSerializer.SerializeToNode(ClientExtensions.Section(45, 41))!.AsObject();
        section["calibration"] = System.Text.Json.Nodes.JsonNode.Parse($$"""{"width":800,"height":600,"known":{{known}}}""");
        var refused = await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", SeparatePractices.Visit(section));
        var said = await refused.Content.ReadAsStringAsync();
        Assert.True(refused.StatusCode == HttpStatusCode.UnprocessableEntity, $"{refused.StatusCode} {said}");
        var detail = (await refused.Json()).GetProperty("detail").GetString()!;
        Assert.Contains(told, detail, StringComparison.Ordinal);
        Assert.True(detail.Length < 160, detail);
    }
}
