using System.Net.Http.Json;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A visit in a yard without a signal: entered, traced, photographed, put away, taken up again, and on record when there is a
/// connection.</summary>
public sealed class FitterDayTests(RunningPractice practice)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task A_visit_that_was_entered_and_traced_without_a_connection_is_on_the_horses_page_when_there_is_one(int width)
    {
        using var program = practice.Program();
        var horse = (await program.GetFromJsonAsync<CaseloadPage>("/api/caseload?limit=40&sort=name"))!.Items[
            width == Screen.Phone.Width ? 0 : 1
        ];
        await using var window = await practice.SignedIn(PracticeRole.Fitter, Screen.Of(width), keeps: true);
        var page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse.HorseId}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Record a visit" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = $"Visit to {horse.Name}" })).ToBeVisibleAsync();
        await Yard.IsKept(page);

        await window.SetOfflineAsync(true);
        await Yard.Stands(page);
        await page.GetByLabel("Weight, kg").FillAsync("611");
        await page.GetByLabel("Condition, 1 to 9").FillAsync("9");
        await Expect(page.GetByText("more than last time; two visits differ by up to").First).ToBeVisibleAsync();
        await page.GetByLabel("Condition, 1 to 9").FillAsync("5.5");
        await page.Locator("#left-behind-shoulder").FillAsync("41");
        await page.GetByLabel("What else was found").FillAsync("Ticklish behind the left shoulder.");
        await page.GetByRole(AriaRole.Link, new() { Name = "Trace a picture" }).ClickAsync();
        await page.GetByLabel("What is traced").SelectOptionAsync("mid-back");
        await Expect(page.Locator("#desk-what")).ToContainTextAsync("mid-back");
        await Tracing.ByHand(page);
        await Expect(page.GetByText("No connection: the measures follow when it is back.")).ToBeVisibleAsync();
        Assert.Null(await page.Keep("fitter-1-traced"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the tracing" }).ClickAsync();
        await Expect(page.Locator("[data-tracings=mid-back]")).ToContainTextAsync("mid-back");
        await page.GetByLabel("Taken at this visit")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "photograph.png",
                    MimeType = "image/png",
                    Buffer = await Tracing.Sheet(page),
                }
            );
        // The first is the picture that was traced: it goes with its tracing.
        await Expect(page.GetByAltText("Photograph 2")).ToBeVisibleAsync();

        // The telephone goes into the pocket, and is taken out again in the next box.
        await page.CloseAsync();
        page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse.HorseId}/visits/new");
        await Expect(page.GetByText("What you had typed for this horse is still here.")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Weight, kg")).ToHaveValueAsync("611");
        await Expect(page.Locator("#level").GetByLabel("Yes")).ToBeCheckedAsync();
        await Expect(page.Locator("#left-behind-shoulder")).ToHaveValueAsync("41");
        await Expect(page.Locator("[data-tracings=mid-back]")).ToContainTextAsync("mid-back");
        Assert.Null(await page.Keep("fitter-2-taken-up-again"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.GetByText("Saved on this device.")).ToBeVisibleAsync();
        await Expect(page.Locator("#waiting")).ToContainTextAsync($"{horse.Name},");
        await page.Keep("fitter-3-saved-on-the-device");

        await window.SetOfflineAsync(false);
        await Expect(page.Locator("#waiting")).ToBeHiddenAsync();
        var visit = await Yard.Recorded(program, horse.HorseId, 611);
        var kinds = visit
            .GetProperty("entries")
            .EnumerateArray()
            .Select(e => e.GetProperty("kind").GetString())
            .Order(StringComparer.Ordinal)
            .ToList();
        Assert.Equal(["condition", "cross-section", "note", "reading", "weight"], kinds);
        var section = visit.GetProperty("entries").EnumerateArray().Single(e => e.GetProperty("kind").GetString() == "cross-section");
        var width100 = section
            .GetProperty("measures")
            .EnumerateArray()
            .Single(m => m.GetProperty("key").GetString() == "width@100")
            .GetProperty("value")
            .GetDouble();
        // The curve of the sheet is known: see Tracing.
        Assert.InRange(width100, Tracing.WidthAt100 - 4, Tracing.WidthAt100 + 4);
        var scale = section.GetProperty("calibration");
        Assert.Equal(
            [10, 20, 370, 20],
            scale.GetProperty("known").EnumerateArray().SelectMany(k => k.GetProperty("mm").EnumerateArray()).Select(mm => mm.GetInt32())
        );

        var entry = page.Locator("li.visit, ol.line > li").Filter(new() { Has = page.Locator("img[alt^='Photograph']") }).First;
        await Yard.Until(page, $"/horses/{horse.HorseId}", entry);
        // Photographs follow their visit; the one that was traced is named by its tracing.
        var files = await program.GetFromJsonAsync<System.Text.Json.JsonElement>($"/api/horses/{horse.HorseId}/files");
        Assert.Contains(
            files.EnumerateArray(),
            f => f.GetProperty("file").GetProperty("contentHash").GetString() == scale.GetProperty("picture").GetString()
        );
        await entry.GetByText("1 tracing, 3 other entries").ClickAsync();
        await Expect(entry.GetByText("611 kg")).ToBeVisibleAsync();
        await Expect(entry.GetByText("Ticklish behind the left shoulder.")).ToBeVisibleAsync();
        Assert.True(
            await entry
                .GetByAltText("Photograph 1 of this visit")
                .EvaluateAsync<bool>("async i => { await i.decode(); return i.naturalWidth > 0; }")
        );
        Assert.Null(await page.Keep("fitter-4-on-record"));
    }
}
