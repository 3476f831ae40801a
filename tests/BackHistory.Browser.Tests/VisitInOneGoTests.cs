using System.Globalization;
using System.Text;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace BackHistory.Browser.Tests;

/// <summary>A visit in one go: every station with its tracings and readings, scores and weight, saved once.</summary>
public sealed class VisitInOneGoTests(RunningPractice practice, ITestOutputHelper output)
{
    private const int MostTaps = 40;

    private static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    [Theory]
    [InlineData(390)]
    [InlineData(1440)]
    public async Task Four_stations_with_tracings_readings_scores_and_weight_are_saved_once_with_at_most_forty_taps(int width)
    {
        var own = string.Create(CultureInfo.InvariantCulture, $"one-go-{width}");
        await using var window = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "One Go");
        var page = await window.NewPageAsync();
        await Yard.Until(page, $"/horses/{horse}", page.GetByRole(AriaRole.Link, new() { Name = "Record a visit" }));
        var taps = new Taps(page);
        await taps.On(page.GetByRole(AriaRole.Link, new() { Name = "Record a visit" }));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Visit to One Go" })).ToBeVisibleAsync();
        await Expect(page.Locator("input[type=radio]:checked")).ToHaveCountAsync(0);
        await Expect(page.Locator("input[type=checkbox]:checked")).ToHaveCountAsync(0);
        await taps.On(page.Locator("#level").GetByLabel("Yes"));
        await taps.On(page.Locator("#square").GetByLabel("Yes"));
        foreach (var at in Stations)
        {
            await taps.Type($"#left-{at}", at == "mid-back" ? "47" : "31");
            await taps.Type($"#right-{at}", "30,5");
            await taps.Choose($"#file-{at}", Files.Semicolons($"{at}.csv", 31), Files.Semicolons($"{at}-again.csv", 31));
        }

        await taps.Type("#along-shoulder", "-3");
        foreach (var (field, value) in new[] { ("#co", "5.5"), ("#mn", "3"), ("#mb", "2.5"), ("#mh", "3"), ("#we", "533") })
            await taps.Type(field, value);
        // Before it is saved, beside the tracing and with what to do.
        await Expect(page.Locator("[data-tracings=mid-back] li")).ToHaveCountAsync(2);
        await Expect(page.Locator("[data-tracings=mid-back]")).ToContainTextAsync("The tracing says 31°, the reading 47°");
        await Expect(page.Locator("[data-tracings=shoulder]")).Not.ToContainTextAsync("The tracing says");
        Assert.Null(await page.Keep("one-go-1-entered"));
        await taps.On(page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }));

        await Expect(page.Locator("p.done")).ToContainTextAsync("The visit is on record.");
        await Expect(page.Locator(".caution"))
            .ToContainTextAsync("The tracing says 31°, the reading 47°: level the sheet again or read again.");
        Assert.Null(await page.Keep("one-go-2-saved"));
        output.WriteLine($"{width} px: {taps.Count} taps from the horse's page to the saved visit");
        Assert.InRange(taps.Count, 1, MostTaps);
        var visit = await Yard.Recorded(program, horse, 533);
        var entries = visit.GetProperty("entries").EnumerateArray().ToList();
        Assert.Equal(8, entries.Count(e => e.GetProperty("kind").GetString() == "cross-section"));
        Assert.Equal(
            Stations.Order(StringComparer.Ordinal),
            entries
                .Where(e => e.GetProperty("kind").GetString() == "cross-section")
                .Select(e => e.GetProperty("station").GetString()!)
                .Distinct()
                .Order(StringComparer.Ordinal)
        );
        Assert.Equal(9, entries.Count(e => e.GetProperty("kind").GetString() == "reading"));
        var conditions = visit.GetProperty("conditions");
        Assert.True(conditions.GetProperty("levelGround").GetBoolean() && conditions.GetProperty("stoodSquare").GetBoolean());

        // The next visit asks a jump against the same station, and says where each is expected.
        await page.GotoAsync($"/horses/{horse}/visits/new");
        await Expect(page.Locator("#left-mid-back-last")).ToContainTextAsync("last 47.0°");
        await Expect(page.Locator("#left-shoulder-last")).ToContainTextAsync("last 31.0°");
        await Expect(page.Locator("#left-shoulder-last")).ToContainTextAsync("expect ");
        await page.Locator("#left-shoulder").FillAsync("47");
        await Expect(page.Locator("#left-shoulder-ask")).ToContainTextAsync("16 more than last time");
        await page.Locator("#left-mid-back").FillAsync("47");
        await Expect(page.Locator("#left-mid-back-ask")).ToBeHiddenAsync();
    }

    [Theory]
    [InlineData(390, true)]
    [InlineData(1440, true)]
    [InlineData(390, false)]
    [InlineData(1440, false)]
    public async Task What_cannot_be_taken_is_said_beside_every_field_at_once_and_nothing_typed_is_lost(int width, bool scripts)
    {
        var own = string.Create(CultureInfo.InvariantCulture, $"one-go-wrong-{width}-{(scripts ? "with" : "without")}");
        await using var signedIn = await practice.OwnPractice(own, Screen.Of(width));
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "Slips");
        await using var window = await practice.Stranger(Screen.Of(width), await signedIn.StorageStateAsync(), scripts: scripts);
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/new"))!.Ok);
        await page.Locator("#right-mid-back").FillAsync("410");
        await page.Locator("#left-shoulder").FillAsync("steep");
        await page.Locator("#we").FillAsync("53300");
        await page.Locator("#words").FillAsync("Ticklish.");
        if (!scripts)
            await page.Locator("#file-last-rib").SetInputFilesAsync(Files.Of("nonsense.csv", "a;b\n1;2\n"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();

        var suffix = scripts ? "no" : "wrong";
        await Expect(page.Locator($"#right-mid-back-{suffix}")).ToHaveTextAsync("Right slope: 0 to 90°");
        await Expect(page.Locator($"#left-shoulder-{suffix}")).ToContainTextAsync("“steep” is no number");
        await Expect(page.Locator($"#we-{suffix}")).ToHaveTextAsync("Weight: 20 to 1600 kg");
        await Expect(page.Locator($"#level-{suffix}")).ToHaveTextAsync("Say whether the ground was level.");
        await Expect(page.Locator($"#square-{suffix}")).ToHaveTextAsync("Say whether the horse stood square.");
        if (!scripts)
            await Expect(page.Locator("#file-last-rib-wrong")).ToContainTextAsync("“nonsense.csv”: The first line must be the header");
        await Expect(page.Locator("#right-mid-back")).ToHaveValueAsync("410");
        await Expect(page.Locator("#words")).ToHaveValueAsync("Ticklish.");
        Assert.Null(await page.Keep($"one-go-3-wrong-{suffix}"));

        await page.Locator("#right-mid-back").FillAsync("41,0");
        await page.Locator("#left-shoulder").FillAsync("33");
        await page.Locator("#we").FillAsync("533");
        await Yard.Stands(page);
        await page.Locator("#file-last-rib").SetInputFilesAsync([Files.Semicolons("one.csv", 31), Files.Semicolons("two.csv", 32)]);
        if (scripts)
            await Expect(page.Locator("[data-tracings=last-rib] li")).ToHaveCountAsync(2);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.Locator("p.done")).ToContainTextAsync("The visit is on record.");
        var standing = page.Locator("ul.entries").First;
        await Expect(standing.Locator("strong").Filter(new() { HasText = "Cross-section" })).ToHaveCountAsync(2);
        await Expect(standing).ToContainTextAsync("533 kg");
        await Expect(standing).ToContainTextAsync("Ticklish.");

        await page.GetByRole(AriaRole.Link, new() { Name = "Add to this visit" }).ClickAsync();
        await page.Locator("#co").FillAsync("5,5");
        await page.Locator("#file-shoulder").SetInputFilesAsync(Files.Semicolons("more.csv", 31));
        Assert.Null(await page.Keep($"one-go-4-more-{suffix}"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Add to the visit" }).ClickAsync();
        await Expect(page.Locator("p.done")).ToContainTextAsync("Added to the visit.");
        await Expect(standing.Locator("strong").Filter(new() { HasText = "Cross-section" })).ToHaveCountAsync(3);
        await Expect(standing).ToContainTextAsync("5.5");
    }

    [Fact]
    public async Task Files_of_several_stations_that_were_chosen_without_a_connection_survive_a_closed_tab_and_go_with_their_visit()
    {
        const string own = "one-go-offline";
        await using var window = await practice.OwnPractice(own, Screen.Phone, keeps: true);
        using var program = practice.Program(own);
        var horse = await Visits.Horse(program, "No Signal");
        var page = await window.NewPageAsync();
        await RunningPractice.Until(async () => (await page.GotoAsync($"/horses/{horse}/visits/new"))!.Ok);
        await Yard.IsKept(page);
        await window.SetOfflineAsync(true);
        await page.Locator("#file-shoulder").SetInputFilesAsync([Files.Semicolons("a.csv", 31), Files.Semicolons("b.csv", 32)]);
        await page.Locator("#file-last-rib").SetInputFilesAsync(Files.Semicolons("c.csv", 33));
        await page.Locator("#file-any").SetInputFilesAsync(Files.Of("wrong.jsonl", "no json"));
        await Expect(page.Locator("#file-any-no")).ToContainTextAsync("It was not taken.");
        await Expect(page.Locator("[data-tracings=last-rib] li")).ToHaveCountAsync(1);

        await page.CloseAsync();
        page = await window.NewPageAsync();
        await page.GotoAsync($"/horses/{horse}/visits/new");
        await Expect(page.Locator("[data-tracings=shoulder] li")).ToHaveCountAsync(2);
        await Expect(page.Locator("[data-tracings=last-rib] li")).ToHaveCountAsync(1);
        await Yard.Stands(page);
        await page.Locator("#we").FillAsync("544");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the visit" }).ClickAsync();
        await Expect(page.GetByText("Saved on this device.")).ToBeVisibleAsync();
        await window.SetOfflineAsync(false);
        var visit = await Yard.Recorded(program, horse, 544);
        Assert.Equal(
            ["last-rib", "shoulder", "shoulder"],
            visit
                .GetProperty("entries")
                .EnumerateArray()
                .Where(e => e.GetProperty("kind").GetString() == "cross-section")
                .Select(e => e.GetProperty("station").GetString()!)
                .Order(StringComparer.Ordinal)
        );
    }

    /// <summary>Every touch that a person needs: one to go into a field, two for a file (the field, and the file in the list
    /// that the device
    /// shows); typing is none.</summary>
    private sealed class Taps(IPage page)
    {
        public int Count { get; private set; }

        public Task On(ILocator what)
        {
            Count++;
            return what.ClickAsync();
        }

        public async Task Type(string field, string value)
        {
            await On(page.Locator(field));
            await page.Keyboard.TypeAsync(value);
        }

        public Task Choose(string field, params FilePayload[] files)
        {
            Count += 1 + files.Length;
            return page.Locator(field).SetInputFilesAsync(files);
        }
    }

    private static class Files
    {
        public static FilePayload Of(string name, string text) =>
            new()
            {
                Name = name,
                MimeType = "text/csv",
                Buffer = Encoding.UTF8.GetBytes(text),
            };

        /// <summary>A roof whose sides fall by so many degrees, as a spreadsheet of a country with decimal commas writes it.</summary>
        public static FilePayload Semicolons(string name, double degrees)
        {
            var rows = new StringBuilder("x_mm;y_mm\r\n");
            var fall = Math.Tan(degrees * Math.PI / 180);
            for (var x = -220.0; x <= 220; x += 5)
            {
                // Rounded over the ridge, as backs are.
                var y = -fall * (Math.Sqrt(x * x + 25) - 5);
                rows.Append(string.Create(CultureInfo.InvariantCulture, $"{x:0.0};{y:0.000}\r\n").Replace('.', ','));
            }

            return Of(name, rows.ToString());
        }
    }
}
