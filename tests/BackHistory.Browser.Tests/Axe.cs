using System.Text.Json;
using BackHistory.Testing;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests;

/// <summary>axe-core, from the locked packages of the page scripts, over a page as it stands.</summary>
internal static class Axe
{
    /// <summary>WCAG 2.0 to 2.2 at A and AA, and the tool's own best practices.</summary>
    private const string Everything = "['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']";

    /// <summary>What another choice of colours can break.</summary>
    private const string Colours = "{ type: 'rule', values: ['color-contrast', 'link-in-text-block'] }";

    private const string Run =
        "async only => (await axe.run(document, { runOnly: only, resultTypes: ['violations'] })).violations"
        + ".map(v => v.id + ': ' + v.help + '\\n' + v.nodes.slice(0, 4).map(n => '      ' + n.target.join(' ') + ' — ' + "
        + "n.html.slice(0, 160) + ' — ' + (n.any[0]?.message ?? n.all[0]?.message ?? n.none[0]?.message ?? '')).join('\\n'))";

    private static readonly Lazy<string> Source = new(() =>
        File.ReadAllText(Path.Combine(Repository.Root, "src/BackHistory.Service/Scripts/node_modules/axe-core/axe.min.js"))
    );

    /// <summary>Told to the page from outside: the page's own policy lets no such script in.</summary>
    public static Task Bring(IPage page) => page.EvaluateAsync(Source.Value);

    /// <summary>What does not hold on this page as it stands: the rule, and where.</summary>
    /// <param name="coloursOnly">The page was looked at before in other colours, and nothing else of it has changed.</param>
    public static async Task<IReadOnlyList<string>> Violations(IPage page, bool coloursOnly = false) =>
        (await page.EvaluateAsync<JsonElement>($"() => ({Run})({(coloursOnly ? Colours : Everything)})")).Deserialize<List<string>>()!;
}
