using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using BackHistory.Store.Accounts;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>What a page costs on the way: every byte that came over the wire for a first look at it.</summary>
public sealed class WeightTests(RunningPractice practice)
{
    /// <summary>200 kB.</summary>
    private const int Most = 200_000;

    [Fact]
    public async Task Every_screen_comes_in_two_hundred_kilobytes_beside_the_back_in_three_dimensions_and_a_letter_in_its_frame()
    {
        var weights = new Dictionary<string, long>(StringComparer.Ordinal);
        await using var inside = await practice.SignedIn(PracticeRole.Administrator, Screen.Phone);
        await using var outside = await practice.Stranger(Screen.Phone);
        var (member, stranger) = (await Scales.On(inside), await Scales.On(outside));
        foreach (var look in practice.Screens.All)
            weights[look.ToString()] = await (look.SignedIn ? member : stranger).Weigh(look.Path);
        foreach (var (look, bytes) in weights.OrderByDescending(w => w.Value).Take(8))
            TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{bytes / 1000.0:0} kB  {look}"));
        Assert.True(weights.Values.Min() > 1000, "a page that weighs nothing was not weighed");
        Assert.Empty(
            weights
                .Where(w => w.Value >= Most)
                .Select(w => string.Create(CultureInfo.InvariantCulture, $"{w.Key}: {w.Value / 1000.0:0} kB"))
        );
    }

    /// <summary>A page whose every look is a first one: no cache, no service worker.</summary>
    private sealed class Scales(IPage page)
    {
        /// <summary>Frames after which what is still on the way is left to the browser's own word.</summary>
        private const int Patience = 200;

        private readonly ConcurrentDictionary<string, string> _addresses = new(StringComparer.Ordinal);
        private readonly ConcurrentDictionary<string, long> _bytes = new(StringComparer.Ordinal);
        private readonly ConcurrentDictionary<string, bool> _onTheWay = new(StringComparer.Ordinal);

        public static async Task<Scales> On(IBrowserContext window)
        {
            var page = await window.NewPageAsync();
            var scales = new Scales(page);
            var wire = await window.NewCDPSessionAsync(page);
            wire.Event("Network.requestWillBeSent").OnEvent += (_, e) =>
            {
                scales._addresses[Id(e)] = e!.Value.GetProperty("request").GetProperty("url").GetString()!;
                scales._onTheWay[Id(e)] = true;
            };
            wire.Event("Network.loadingFinished").OnEvent += (_, e) =>
            {
                scales._bytes[Id(e)] = (long)e!.Value.GetProperty("encodedDataLength").GetDouble();
                scales._onTheWay.TryRemove(Id(e), out bool _);
            };
            wire.Event("Network.loadingFailed").OnEvent += (_, e) => scales._onTheWay.TryRemove(Id(e), out bool _);
            await wire.SendAsync("Network.enable");
            await wire.SendAsync("Network.setCacheDisabled", new Dictionary<string, object> { ["cacheDisabled"] = true });
            await wire.SendAsync("Network.setBypassServiceWorker", new Dictionary<string, object> { ["bypass"] = true });
            return scales;
        }

        public async Task<long> Weigh(string path)
        {
            _bytes.Clear();
            _onTheWay.Clear();
            await page.GotoAsync(path);
            // What scripts and what comes into view ask for is asked for within a few frames of the page standing.
            var frames = 0;
            for (var quiet = 0; quiet < 3 && frames < Patience; quiet = _onTheWay.IsEmpty ? quiet + 1 : 0, frames++)
                await page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => setTimeout(done, 20)))");
            // The browser never tells how a request ended that the page before it had just sent.
            if (frames == Patience)
                await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
            return _bytes.Where(b => _addresses.TryGetValue(b.Key, out var address) && !IsBeside(address)).Sum(b => b.Value);
        }
    }

    /// <summary>The bundle that draws three dimensions and what it draws; and a letter as its reader gets it, with its pictures
    /// inside.</summary>
    private static bool IsBeside(string address) =>
        new Uri(address) is var url
        && (
            (
                url.AbsolutePath.StartsWith("/js/back.", StringComparison.Ordinal)
                && url.AbsolutePath.EndsWith(".js", StringComparison.Ordinal)
            )
            || url.AbsolutePath.EndsWith("/compare/back.json", StringComparison.Ordinal)
            || url.AbsolutePath.EndsWith("/look", StringComparison.Ordinal)
        );

    private static string Id(JsonElement? e) => e!.Value.GetProperty("requestId").GetString()!;
}
