using System.Net.Http.Json;
using System.Text.Json;
using BackHistory.History.Practices;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A day in a yard without a connection, and what two people entered of one horse meanwhile.</summary>
public sealed class OfflineDayTests(RunningPractice practice)
{
    [Fact]
    public async Task Whoever_opened_a_yard_in_time_has_it_its_horses_and_their_entries_without_a_connection()
    {
        const string own = "offline-day";
        await using var window = await practice.OwnPractice(own, Screen.Phone, keeps: true);
        using var program = practice.Program(own);
        var yard = (await EveryScreen.Write(program, "/api/yards", new { name = "Far Hill", town = "Ford" })).GetProperty("id").GetGuid();
        var horses = new List<Guid>();
        foreach (var name in (string[])["First Away", "Second Away"])
        {
            var made = await EveryScreen.Write(
                program,
                "/api/horses",
                new
                {
                    name,
                    foaled = "2015-05-01",
                    yardId = yard,
                }
            );
            horses.Add(made.GetProperty("id").GetGuid());
        }

        var page = await window.NewPageAsync();
        await Yard.Until(page, $"/yards/{yard}", page.GetByRole(AriaRole.Link, new() { Name = "Second Away" }));
        string[] day = [$"/yards/{yard}", .. horses.SelectMany(h => (string[])[$"/horses/{h}", $"/horses/{h}/visits/new"])];
        await RunningPractice.Until(() =>
            page.EvaluateAsync<bool>(
                "async day => (await Promise.all(day.map(p => caches.match(p)))).every(Boolean)",
                (object)day.Append($"/horses/{horses[1]}/visits/new/desk").ToArray()
            )
        );

        await window.SetOfflineAsync(true);
        foreach (var path in day)
        {
            Assert.True((await page.GotoAsync(path))!.Ok, path);
            await Expect(page.Locator("#waiting")).ToContainTextAsync("No connection: pages are shown as this device kept them");
        }

        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Visit to Second Away" })).ToBeVisibleAsync();
        Assert.Null(await page.Keep("offline-visit"));
        await window.SetOfflineAsync(false);
        var manifest = await window.APIRequest.GetAsync("/app.webmanifest");
        Assert.Equal("application/manifest+json", manifest.Headers["content-type"]);
        foreach (var icon in (await manifest.JsonAsync())!.Value.GetProperty("icons").EnumerateArray())
            Assert.True((await window.APIRequest.GetAsync(icon.GetProperty("src").GetString()!)).Ok);
    }

    [Fact]
    public async Task A_jump_from_what_was_read_at_a_visit_that_still_waits_on_the_device_is_asked_about()
    {
        const string own = "offline-jump";
        await using var window = await practice.OwnPractice(own, Screen.Phone, keeps: true);
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "Read Twice Away");
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/new"))!.Ok);
        await Yard.IsKept(page);
        await window.SetOfflineAsync(true);
        await Yard.Stands(page);
        var left = page.Locator("input[name='Form.Left[behind-shoulder]']");
        await left.FillAsync("42");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.GetByText("Saved on this device.")).ToBeVisibleAsync();

        await page.GotoAsync($"/horses/{horse}/visits/new");
        await Expect(page.Locator($"#{await left.GetAttributeAsync("id")}-last")).ToContainTextAsync("last 42, ");
        await left.FillAsync("56");
        await Expect(page.GetByText("14 more than last time")).ToBeVisibleAsync();
        await left.FillAsync("42,5");
        await Expect(page.GetByText("more than last time")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task What_two_people_entered_is_asked_with_its_field_and_person_Escape_loses_nothing_and_one_weight_stands()
    {
        const string own = "offline-twice";
        await using var window = await practice.OwnPractice(own, Screen.Phone, keeps: true);
        using var program = practice.Program(own);
        var ben = await practice.Person(own, "Ben Ford", PersonRole.Fitter);
        var horse = await Visits.Horse(program, "Twice Weighed");
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/new"))!.Ok);
        await Yard.IsKept(page);
        await window.SetOfflineAsync(true);
        await Yard.Stands(page);
        var day = await page.GetByLabel("Day", new() { Exact = true }).InputValueAsync();
        await page.GetByLabel("Weight, kg").FillAsync("512");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.GetByText("Saved on this device.")).ToBeVisibleAsync();
        await EveryScreen.Write(
            program,
            $"/api/horses/{horse}/visits",
            new
            {
                takenAt = $"{day}T08:00:00Z",
                by = ben,
                method = "scale",
                entries = new[]
                {
                    new
                    {
                        kind = "weight",
                        value = 498,
                        unit = "kg",
                    },
                },
            }
        );

        await Yard.Recorded(program, horse, 498);
        await window.SetOfflineAsync(false);
        var dialog = page.GetByRole(AriaRole.Dialog);
        await Expect(dialog).ToContainTextAsync("Weight");
        await Expect(dialog).ToContainTextAsync("498 kg, entered by Ben Ford");
        Assert.Null(await page.Keep("offline-entered-twice"));
        await page.Keyboard.PressAsync("Escape");
        await Expect(page.Locator("#waiting")).ToContainTextAsync("you have not said yet which stands");
        await page.GetByRole(AriaRole.Button, new() { Name = "Say which stands" }).ClickAsync();
        await dialog.GetByLabel("512 kg, yours").CheckAsync();
        await dialog.GetByRole(AriaRole.Button, new() { Name = "Keep these" }).ClickAsync();
        await Expect(page.Locator("#waiting")).ToBeHiddenAsync();

        await Yard.Recorded(program, horse, 512);
        await RunningPractice.Until(async () =>
            (await program.GetFromJsonAsync<JsonElement>($"/api/horses/{horse}/visits"))
                .EnumerateArray()
                .SelectMany(v => v.GetProperty("entries").EnumerateArray())
                .Count(e => e.GetProperty("stands").GetBoolean()) == 1
        );
    }
}
