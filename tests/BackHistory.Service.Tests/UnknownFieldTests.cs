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
}
