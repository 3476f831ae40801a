using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>Horses and visits that a test has before it presses anything.</summary>
internal static class Visits
{
    public static async Task<Guid> Horse(HttpClient program, string name) =>
        (await EveryScreen.Write(program, "/api/horses", new { name, foaled = "2015-05-01" })).GetProperty("id").GetGuid();

    /// <summary>A visit of yesterday.</summary>
    public static async Task<Guid> Enter(HttpClient program, Guid horse, params object[] entries)
    {
        var id = Guid.CreateVersion7();
        await EveryScreen.Write(program, $"/api/horses/{horse}/visits", Body(id, entries));
        return id;
    }

    public static object Body(Guid id, params object[] entries) =>
        new
        {
            id,
            takenAt = "2026-11-24T09:00:00Z",
            method = "flexible-curve",
            conditions = new { levelGround = true, stoodSquare = true },
            entries,
        };

    /// <summary>A visit with a weight, in kilograms, that an apprentice entered.</summary>
    public static async Task<Guid> ByApprentice(IBrowserContext window, Guid horse, double weight)
    {
        var id = Guid.CreateVersion7();
        var answer = await window.APIRequest.PostAsync(
            $"/api/horses/{horse}/visits",
            new APIRequestContextOptions
            {
                Headers = new Dictionary<string, string>(StringComparer.Ordinal)
                {
                    ["Idempotency-Key"] = id.ToString(),
                    ["If-Match"] = "*",
                },
                DataObject = Body(
                    id,
                    new
                    {
                        kind = "weight",
                        value = weight,
                        unit = "kg",
                    }
                ),
            }
        );
        Assert.True(answer.Ok, await answer.TextAsync());
        return id;
    }

    /// <summary>Opens the page of a visit as soon as it is there.</summary>
    public static async Task Open(IPage page, Guid horse, Guid visit)
    {
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/{visit}"))!.Ok);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("visit of");
    }
}
