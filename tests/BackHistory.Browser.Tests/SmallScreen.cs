using System.Text.Json;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>What a telephone takes from a page: charts that are drawn for a wider screen, and tables that go on beyond it.</summary>
internal static class SmallScreen
{
    /// <summary>Charts are pictures of lines and letters: each is drawn for the width at which it is shown, with letters of nine
    /// pixels or more.</summary>
    private const string Script = """
        async () => {
          const lost = [];
          const letters = {};
          let charts = 0;
          for (const late of document.querySelectorAll('.chart img')) {
            if (!late.checkVisibility()) continue;
            late.loading = 'eager';
            await late.decode();
          }
          await new Promise(laidOut => requestAnimationFrame(() => requestAnimationFrame(laidOut)));
          for (const chart of document.querySelectorAll('.chart img, .chart svg')) {
            if (!chart.checkVisibility()) continue;
            let drawn = chart.viewBox?.baseVal.width;
            let text = chart.outerHTML;
            let name = 'a drawing of the page';
            if (chart.tagName === 'IMG') {
              drawn = chart.naturalWidth;
              name = new URL(chart.currentSrc).pathname;
              text = letters[chart.currentSrc] ??= await (await fetch(chart.currentSrc)).text();
            }
            const shown = chart.getBoundingClientRect().width;
            charts += 1;
            if (!(drawn > 0)) lost.push(`${name} says no width of its own`);
            const scale = shown / drawn;
            if (scale < 0.97) lost.push(`${name} is drawn for ${drawn} px and shown at ${Math.round(shown)} px`);
            const sizes = [...text.matchAll(/font-size[=:]\s*"?([\d.]+)/g)].map(m => Number(m[1]) * scale);
            const least = Math.min(...sizes);
            if (least < 9) lost.push(`${name} has letters of ${least.toFixed(1)} px`);
          }
          for (const table of document.querySelectorAll('table')) {
            if (!table.checkVisibility()) continue;
            const frame = table.closest('.wide') ?? document.documentElement;
            const over = Math.max(frame.scrollWidth - frame.clientWidth, table.getBoundingClientRect().right - innerWidth);
            const name = table.caption?.textContent ?? table.querySelector('th')?.textContent;
            if (over >= 1) lost.push(`the table of ${name} is ${Math.round(over)} px too wide`);
          }
          return { lost, charts };
        }
        """;

    /// <returns>What is lost, and how many charts were measured.</returns>
    public static async Task<(IReadOnlyList<string> Lost, int Charts)> Look(IPage page)
    {
        var seen = await page.EvaluateAsync<JsonElement>(Script);
        return (seen.GetProperty("lost").Deserialize<List<string>>()!, seen.GetProperty("charts").GetInt32());
    }
}
