using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using BackHistory.Testing;
using Microsoft.Playwright;

namespace BackHistory.Benchmarks.Service;

/// <summary>
/// The screens on a phone whose processor is four times slower than this machine's: how long until something stands on an empty screen,
/// and how long a touch or a key waits for its picture. Both by the browser's own clock (Paint Timing and Event Timing of the W3C), in
/// Debian's Chromium over the real host with the invented practice.
/// </summary>
static partial class ScreensBench
{
    private const int Horses = 40,
        Looks = 5,
        Slower = 4;
    private const double PaintLimit = 1000,
        InteractionLimit = 100;

    internal static async Task<IReadOnlyList<Figure>> Run()
    {
        await using var bench = await ServedBench.Invented(Horses);
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new BrowserTypeLaunchOptions
            {
                ExecutablePath = ServedHost.Chromium,
                Headless = true,
                Args = ["--no-sandbox", "--disable-gpu"],
            }
        );
        var signedIn = await SignIn(browser, bench);
        using var program = bench.Host.Client(ServedHost.InventedTenant);
        var horse = await Assessed(program);

        var figures = new List<Figure>();
        foreach (
            var (name, path) in new[]
            {
                ("caseload", "/"),
                ("horse", $"/horses/{horse}"),
                ("visit", $"/horses/{horse}/visits/new"),
                ("tracing desk", $"/horses/{horse}/visits/new/desk"),
                ("compare", $"/horses/{horse}/compare"),
                ("reminders", "/reminders"),
                ("practice", "/practice"),
            }
        )
        {
            var paints = new List<double>();
            for (var look = 0; look <= Looks; look++)
                paints.Add(await FirstPaint(browser, bench, signedIn, path));
            // The first look also pays for what the server does once.
            var median = paints.Skip(1).Order().ElementAt(Looks / 2);
            figures.Add(
                new(
                    $"screens: {name}, first contentful paint with an empty cache, processor {Slower} times slower, median of {Looks}",
                    median,
                    "limit",
                    PaintLimit,
                    "ms"
                )
            );
        }

        foreach (var (name, path, work) in Interactions(horse))
        {
            var slowest = new List<double>();
            for (var look = 0; look < Looks; look++)
                slowest.Add(await Slowest(browser, bench, signedIn, path, work));
            figures.Add(
                new(
                    $"screens: {name}, slowest interaction of a visit to the page, processor {Slower} times slower, median of {Looks} "
                        + $"visits",
                    slowest.Order().ElementAt(Looks / 2),
                    "limit",
                    InteractionLimit,
                    "ms"
                )
            );
        }

        return figures;
    }

    private static (string Name, string Path, Func<IPage, Task> Work)[] Interactions(Guid horse) =>
        [
            (
                "a visit typed in",
                $"/horses/{horse}/visits/new",
                async page =>
                {
                    await Touch(page, page.GetByLabel("Weight, kg"));
                    await page.Keyboard.TypeAsync("611", new() { Delay = 80 });
                    await Touch(page, page.GetByLabel("Condition, 1 to 9"));
                    await page.Keyboard.TypeAsync("5.5", new() { Delay = 80 });
                }
            ),
            (
                "points placed at the desk",
                $"/horses/{horse}/visits/new/desk",
                async page =>
                {
                    await Touch(page, page.Locator("[data-tool=trace]"));
                    await page.Locator("#desk-file")
                        .SetInputFilesAsync(
                            new FilePayload
                            {
                                Name = "photograph.png",
                                MimeType = "image/png",
                                Buffer = Convert.FromBase64String(await page.EvaluateAsync<string>(Photograph)),
                            }
                        );
                    await page.WaitForTimeoutAsync(2500);
                    var canvas = (await page.Locator("#desk-canvas").BoundingBoxAsync())!;
                    for (var i = 0; i < 12; i++)
                    {
                        await page.Touchscreen.TapAsync(canvas.X + 30 + (24 * i), canvas.Y + 60 + (2 * (i - 6) * (i - 6)));
                        await page.WaitForTimeoutAsync(300);
                    }
                }
            ),
            (
                "a visit opened in the history",
                $"/horses/{horse}",
                async page =>
                {
                    foreach (var details in (await page.Locator("ol.line details summary").AllAsync()).Take(3))
                        await Touch(page, details);
                }
            ),
            (
                "a name typed into the search",
                "/",
                async page =>
                {
                    await page.Locator("#find").FocusAsync();
                    await page.Keyboard.TypeAsync("harrow", new() { Delay = 80 });
                }
            ),
        ];

    /// <summary>As a hand does it: it scrolls, looks, and then touches. Nothing of the driver's runs in the page meanwhile.</summary>
    private static async Task Touch(IPage page, ILocator what)
    {
        await what.ScrollIntoViewIfNeededAsync();
        var box = (await what.BoundingBoxAsync())!;
        await page.WaitForTimeoutAsync(1000);
        await page.Touchscreen.TapAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await page.WaitForTimeoutAsync(500);
    }

    /// <summary>A photograph of twelve million points, as a telephone takes it.</summary>
    private const string Photograph = """
        () => {
            const canvas = document.createElement('canvas');
            [canvas.width, canvas.height] = [4000, 3000];
            const ink = canvas.getContext('2d');
            ink.fillStyle = '#fff'; ink.fillRect(0, 0, 4000, 3000);
            ink.strokeStyle = '#111'; ink.lineWidth = 12; ink.beginPath();
            for (let x = -1800; x <= 1800; x += 10) ink.lineTo(2000 + x, 400 + x * x / 1500);
            ink.stroke();
            return canvas.toDataURL('image/png').split(',')[1];
        }
        """;

    private static async Task<double> FirstPaint(IBrowser browser, ServedBench bench, string signedIn, string path)
    {
        await using var window = await Phone(browser, bench, signedIn);
        var page = await Slow(window);
        await page.GotoAsync(path, new() { WaitUntil = WaitUntilState.Load });
        await page.WaitForFunctionAsync("() => performance.getEntriesByName('first-contentful-paint').length > 0");
        return await page.EvaluateAsync<double>("() => performance.getEntriesByName('first-contentful-paint')[0].startTime");
    }

    /// <summary>From the touch or key to the next frame on the screen; the browser leaves out what took less than sixteen
    /// milliseconds.</summary>
    private static async Task<double> Slowest(IBrowser browser, ServedBench bench, string signedIn, string path, Func<IPage, Task> work)
    {
        await using var window = await Phone(browser, bench, signedIn);
        var page = await Slow(window);
        await page.GotoAsync(path, new() { WaitUntil = WaitUntilState.NetworkIdle });
        await page.EvaluateAsync(
            """
            () => {
              window.slow = [];
              const seen = l => window.slow.push(...l.getEntries().filter(e => e.interactionId).map(e => e.duration));
              new PerformanceObserver(seen).observe({ type: 'event', durationThreshold: 16 });
            }
            """
        );
        await work(page);
        await page.WaitForTimeoutAsync(1000);
        var durations = await page.EvaluateAsync<double[]>("() => window.slow");
        return durations.DefaultIfEmpty(16).Max();
    }

    private static async Task<IPage> Slow(IBrowserContext window)
    {
        var page = await window.NewPageAsync();
        // The browser runs already, as that of a person does: starting its processes is not the page's doing.
        await page.GotoAsync("/nothing-here");
        var wire = await window.NewCDPSessionAsync(page);
        await wire.SendAsync("Network.enable");
        await wire.SendAsync("Network.setCacheDisabled", new Dictionary<string, object> { ["cacheDisabled"] = true });
        await wire.SendAsync("Network.setBypassServiceWorker", new Dictionary<string, object> { ["bypass"] = true });
        await wire.SendAsync("Emulation.setCPUThrottlingRate", new Dictionary<string, object> { ["rate"] = Slower });
        // Nor is the end of what stood there before: a person looks at a page before the next.
        await page.WaitForTimeoutAsync(1500);
        return page;
    }

    private static async Task<IBrowserContext> Phone(IBrowser browser, ServedBench bench, string? signedIn)
    {
        var window = await browser.NewContextAsync(
            new BrowserNewContextOptions
            {
                BaseURL = bench.Host.Address.ToString(),
                ViewportSize = new() { Width = 390, Height = 844 },
                IsMobile = true,
                HasTouch = true,
                DeviceScaleFactor = 2,
                Locale = "en-GB",
                StorageState = signedIn,
            }
        );
        window.SetDefaultTimeout(120_000);
        return window;
    }

    private static async Task<string> SignIn(IBrowser browser, ServedBench bench)
    {
        var said = Manager().Match(bench.SignIn);
        await using var window = await Phone(browser, bench, null);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("E-mail").FillAsync(said.Groups["email"].Value);
        await page.GetByLabel("Password").FillAsync(said.Groups["password"].Value);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "Caseload" }).WaitForAsync();
        return await window.StorageStateAsync();
    }

    [GeneratedRegex(@"sign in as (?<email>\S+) with (?<password>\S+)", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Manager();

    /// <summary>Waits until every horse was looked at, and takes the one that needs somebody most.</summary>
    private static async Task<Guid> Assessed(HttpClient program)
    {
        while (true)
        {
            using var answer = JsonDocument.Parse(
                await program.GetStringAsync(string.Create(CultureInfo.InvariantCulture, $"/api/caseload?limit={Horses}"))
            );
            var rows = answer.RootElement.GetProperty("items").EnumerateArray().ToList();
            if (
                rows.Count == Horses
                && rows.All(r => r.TryGetProperty("nextCheckDue", out var due) && due.ValueKind == JsonValueKind.String)
            )
                return rows[0].GetProperty("horseId").GetGuid();
            await Task.Delay(500);
        }
    }
}
