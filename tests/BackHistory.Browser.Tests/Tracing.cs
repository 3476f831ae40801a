using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>The yard on both sides of a missing connection.</summary>
internal static class Yard
{
    /// <summary>Waits for the visit at which the horse had this weight, in kilograms.</summary>
    public static async Task<JsonElement> Recorded(HttpClient program, Guid horse, double weight)
    {
        JsonElement found = default;
        await RunningPractice.Until(
            async () =>
            {
                var visits = await program.GetFromJsonAsync<JsonElement>($"/api/horses/{horse}/visits");
                found = visits
                    .EnumerateArray()
                    .FirstOrDefault(v =>
                        v.GetProperty("entries")
                            .EnumerateArray()
                            .Any(e =>
                                e.GetProperty("kind").GetString() == "weight"
                                && e.GetProperty("measures")
                                    .EnumerateArray()
                                    .Any(m => Math.Abs(m.GetProperty("value").GetDouble() - weight) < 0.01)
                            )
                    );
                return found.ValueKind == JsonValueKind.Object;
            },
            "the visit is on record"
        );
        return found;
    }

    /// <summary>Opens a page until something stands on it: read models follow a moment later, and a page that is open does not change by
    /// itself.</summary>
    public static Task Until(IPage page, string path, ILocator something) =>
        RunningPractice.Until(
            async () =>
            {
                await page.GotoAsync(path);
                return await something.CountAsync() > 0;
            },
            $"{something} on {path}"
        );

    /// <summary>Says that the ground is level and the horse stands square.</summary>
    public static async Task Stands(IPage page)
    {
        await page.Locator("#level").GetByLabel("Yes").CheckAsync();
        await page.Locator("#square").GetByLabel("Yes").CheckAsync();
    }

    /// <summary>Waits until what the yard's pages need is on the device.</summary>
    public static Task IsKept(IPage page) =>
        RunningPractice.Until(
            () =>
                page.EvaluateAsync<bool>(
                    """
                    async () => {
                        // Kept pages are handed out by the worker: it must be at work, not only installed.
                        const ready = await navigator.serviceWorker.ready;
                        if (ready.active?.state !== 'activated' || !navigator.serviceWorker.controller) return false;
                        const kept = (await (await caches.open('yard-2')).keys()).map(r => new URL(r.url).pathname);
                        const needed = [/\/visits\/new$/, /\/visits\/new\/desk$/, /^\/js\/desk/, /^\/js\/visit/, /^\/js\/part-/, /^\/app/];
                        return needed.every(p => kept.some(k => p.test(k)));
                    }
                    """
                ),
            "what the yard needs is on the device"
        );
}

/// <summary>A tracing sheet with a known curve on it, traced by hand.</summary>
internal static class Tracing
{
    /// <summary>The curve falls as x²/150 from the midline: 100 mm down it is 2·√15000 mm wide.</summary>
    public static readonly double WidthAt100 = 2 * Math.Sqrt(15_000);

    private const double Curve = 150;
    public const int Wide = 760;
    public const int High = 520;
    private const double MidlineX = 190;
    private const double MidlineY = 50;

    /// <summary>Two dots a millimetre: a sheet of 380 by 260 mm with a curve on it.</summary>
    private const string Draw = """
        ([x0, y0, c]) => {
            const canvas = document.createElement('canvas');
            [canvas.width, canvas.height] = [760, 520];
            const ink = canvas.getContext('2d');
            ink.fillStyle = '#fff'; ink.fillRect(0, 0, 760, 520);
            ink.strokeStyle = '#111'; ink.lineWidth = 3; ink.beginPath();
            for (let x = -175; x <= 175; x++) ink.lineTo(2 * (x0 + x), 2 * (y0 + x * x / c));
            ink.stroke();
            return canvas.toDataURL('image/png').split(',')[1];
        }
        """;

    public static async Task<byte[]> Sheet(IPage page) =>
        Convert.FromBase64String(await page.EvaluateAsync<string>(Draw, new[] { MidlineX, MidlineY, Curve }));

    /// <summary>Puts the sheet on the desk, marks two known points, midline and level, and traces the curve point by point.</summary>
    public static async Task ByHand(IPage page)
    {
        await Put(page);
        await Known(page, 10, 20);
        await Known(page, 370, 20);
        await page.GetByRole(AriaRole.Button, new() { Name = "Midline mark" }).ClickAsync();
        await Touch(page, MidlineX, MidlineY);
        await Touch(page, 60, 20);
        await Touch(page, 320, 20);
        foreach (var x in Places())
            await Touch(page, MidlineX + x, MidlineY + (x * x / Curve));
    }

    /// <summary>The same with keys: arrows move the cross, Enter places; a shorter curve, for there are many steps to it.</summary>
    /// <param name="to">Goes to what has this label, by the Tab key.</param>
    public static async Task ByKeys(IPage page, Func<string, Task> to)
    {
        await Put(page);
        await to("Known point");
        await page.Keyboard.PressAsync("Enter");
        var cross = await Cross.On(page);
        await cross.Place(10, 20);
        await Say("10", "20");
        await cross.Place(370, 20);
        await Say("370", "20");
        await cross.Back(to, "Midline mark");
        await cross.Place(MidlineX, MidlineY);
        await cross.Place(60, 20);
        await cross.Place(320, 20);
        foreach (var x in Places(10, 130))
            await cross.Place(MidlineX + x, MidlineY + (x * x / Curve));

        async Task Say(string x, string y)
        {
            await Assertions.Expect(page.GetByLabel("To the right, mm")).ToBeFocusedAsync();
            await page.Keyboard.TypeAsync(x);
            await page.Keyboard.PressAsync("Tab");
            await page.Keyboard.TypeAsync(y);
            await page.Keyboard.PressAsync("Enter");
            await Assertions.Expect(page.Locator("#desk-canvas")).ToBeFocusedAsync();
        }
    }

    public static async Task Put(IPage page)
    {
        await page.GetByLabel("Put a picture in")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "sheet.png",
                    MimeType = "image/png",
                    Buffer = await Sheet(page),
                }
            );
        await Assertions.Expect(page.GetByText("Mark two or more points whose place you know.")).ToBeVisibleAsync();
    }

    private static async Task Known(IPage page, double x, double y)
    {
        await Touch(page, x, y);
        await page.GetByLabel("To the right, mm").FillAsync(x.ToString(System.Globalization.CultureInfo.InvariantCulture));
        await page.GetByLabel("Down, mm").FillAsync(y.ToString(System.Globalization.CultureInfo.InvariantCulture));
        await page.GetByRole(AriaRole.Button, new() { Name = "Set", Exact = true }).ClickAsync();
    }

    /// <summary>Places along the curve, some millimetres apart: a touch nearer to a point than a fingertip takes hold of it.</summary>
    private static IEnumerable<double> Places(double apart = 19, double reach = 170)
    {
        var since = apart;
        for (var x = -reach; x <= reach; x += 0.25)
        {
            if ((since += 0.25 * Math.Sqrt(1 + Math.Pow(2 * x / Curve, 2))) < apart)
                continue;
            since = 0;
            yield return x;
        }
    }

    /// <summary>A place of the sheet, in millimetres: the desk fits the picture into its canvas.</summary>
    private static async Task Touch(IPage page, double x, double y)
    {
        var canvas = page.Locator("#desk-canvas");
        var size = await canvas.EvaluateAsync<double[]>("c => [c.clientWidth, c.clientHeight]");
        var scale = Math.Min(size[0] / Wide, size[1] / High);
        var at = new Position
        {
            X = (float)(((size[0] - (Wide * scale)) / 2) + (2 * x * scale)),
            Y = (float)(((size[1] - (High * scale)) / 2) + (2 * y * scale)),
        };
        if (page.ViewportSize!.Width == Screen.Phone.Width)
            await canvas.TapAsync(new() { Position = at });
        else
            await canvas.ClickAsync(new() { Position = at });
    }
}

/// <summary>The cross of the desk, moved with the arrow keys by four dots of the screen, with Shift by forty.</summary>
internal sealed class Cross
{
    private const int Small = 4;
    private const int Large = 40;

    private readonly IPage _page;
    private readonly double _scale;
    private (double X, double Y) _at;

    private Cross(IPage page, double width, double height)
    {
        _page = page;
        _scale = Math.Min(width / Tracing.Wide, height / Tracing.High);
        // Where the cross is first shown: in the middle of the picture.
        _at = (Tracing.Wide * _scale / 2, Tracing.High * _scale / 2);
    }

    public static async Task<Cross> On(IPage page)
    {
        await Assertions.Expect(page.Locator("#desk-canvas")).ToBeFocusedAsync();
        var size = await page.Locator("#desk-canvas").EvaluateAsync<double[]>("c => [c.clientWidth, c.clientHeight]");
        return new Cross(page, size[0], size[1]);
    }

    /// <summary>Puts the chosen tool's mark within two dots of a place of the sheet, in millimetres.</summary>
    public async Task Place(double x, double y)
    {
        var (dx, dy) = ((2 * x * _scale) - _at.X, (2 * y * _scale) - _at.Y);
        _at = (_at.X + await Move(dx, "ArrowRight", "ArrowLeft"), _at.Y + await Move(dy, "ArrowDown", "ArrowUp"));
        await _page.Keyboard.PressAsync("Enter");
    }

    /// <summary>To a tool and, by its button, to the picture again.</summary>
    public async Task Back(Func<string, Task> to, string tool)
    {
        await to(tool);
        await _page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(_page.Locator("#desk-canvas")).ToBeFocusedAsync();
    }

    private async Task<double> Move(double by, string forth, string back)
    {
        var key = by >= 0 ? forth : back;
        var steps = (int)Math.Round(Math.Abs(by) / Small);
        for (var i = 0; i < steps / (Large / Small); i++)
            await _page.Keyboard.PressAsync($"Shift+{key}");
        for (var i = 0; i < steps % (Large / Small); i++)
            await _page.Keyboard.PressAsync(key);
        return Math.Sign(by) * steps * Small;
    }
}
