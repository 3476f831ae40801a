using System.Net;
using BackHistory.Store.Accounts;

namespace BackHistory.Service.Tests;

/// <summary>A practice chooses in what it is told lengths and heights.</summary>
public sealed class UnitsApiTests(RunningService service)
{
    [Fact]
    public async Task Pages_and_pictures_follow_the_choice_and_nothing_that_is_stored_does()
    {
        using var client = service.Client(RunningService.Imperial);
        var horse = await client.Horse();
        var visit = new
        {
            takenAt = "2026-06-12T10:00:00Z",
            method = "flexible-curve",
            entries = new object[] { ClientExtensions.Section(45, 45) },
        };
        Assert.Equal(HttpStatusCode.Created, (await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", visit)).StatusCode);
        using var fitter = await service.SignedIn(await service.Member("Inch Reader", (RunningService.Imperial, PracticeRole.Fitter)));
        var page = WebUtility.HtmlDecode(await fitter.Until($"/horses/{horse}", "Measures of this visit"));
        Assert.Contains("160 cm", page, StringComparison.Ordinal);
        Assert.Contains("Width 100 mm down", page, StringComparison.Ordinal);
        var stored = (await client.GetFromJson($"/api/horses/{horse}/measures?key=width@100"))[0];

        var version = (await client.GetFromJson("/api/practice")).GetProperty("version").GetInt64();
        var chosen = await client.Write(
            HttpMethod.Put,
            "/api/practice/units",
            new { lengths = "inches", heights = "hands" },
            ifMatch: $"\"{version}\""
        );
        Assert.Equal(HttpStatusCode.OK, chosen.StatusCode);

        page = WebUtility.HtmlDecode(await fitter.Page($"/horses/{horse}"));
        Assert.Contains("15.3 hands", page, StringComparison.Ordinal);
        Assert.Contains("Width 3.9″ down", page, StringComparison.Ordinal);
        Assert.Contains(
            (stored.GetProperty("value").GetDouble() / 25.4).ToString("0.00", System.Globalization.CultureInfo.InvariantCulture),
            page,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("Width 100 mm", page, StringComparison.Ordinal);
        var section = await client.GetStringAsync($"/api/horses/{horse}/charts/section.svg?station=behind-shoulder");
        Assert.Contains("Inches from the midline point", section, StringComparison.Ordinal);
        Assert.Equal(stored.ToString(), (await client.GetFromJson($"/api/horses/{horse}/measures?key=width@100"))[0].ToString());

        var again = await client.Write(
            HttpMethod.Put,
            "/api/practice/units",
            new { lengths = "inches", heights = "hands" },
            ifMatch: $"\"{version + 1}\""
        );
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Equal(version + 1, (await client.GetFromJson("/api/practice")).GetProperty("version").GetInt64());
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await client.Write(HttpMethod.Put, "/api/practice/units", new { lengths = "furlongs", heights = "hands" })).StatusCode
        );
    }
}
