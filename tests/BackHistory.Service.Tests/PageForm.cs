using System.Net;
using System.Text.RegularExpressions;

namespace BackHistory.Service.Tests;

/// <summary>The form of a page that posts to the page's own address, sent as a browser sends it without scripts.</summary>
internal static partial class PageForm
{
    /// <summary>Opens a page and sends its form with what is typed; everything that is not typed goes as the page holds it.</summary>
    public static async Task<HttpResponseMessage> Press(this Browser browser, string address, params (string Name, string Value)[] typed) =>
        await browser.Sent(address, await browser.Page(address), typed);

    /// <summary>Sends the form of a page as it was read before.</summary>
    public static Task<HttpResponseMessage> Sent(
        this Browser browser,
        string address,
        string page,
        params (string Name, string Value)[] typed
    ) =>
        browser.Client.PostAsync(
            address,
            new FormUrlEncodedContent(Held(page, typed).Select(f => new KeyValuePair<string, string>(f.Name, f.Value)))
        );

    /// <summary>Sends the form of a page to another address, as a button of it does that leads elsewhere.</summary>
    public static async Task<HttpResponseMessage> PostHeld(
        this Browser browser,
        string page,
        string to,
        params (string Name, string Value)[] typed
    ) =>
        await browser.Client.PostAsync(
            to,
            new FormUrlEncodedContent(Held(await browser.Page(page), typed).Select(f => new KeyValuePair<string, string>(f.Name, f.Value)))
        );

    /// <summary>What the form of a page sends: what it holds, and what is typed over it.</summary>
    public static IEnumerable<(string Name, string Value)> Held(string page, params (string Name, string Value)[] typed)
    {
        var form = page.Split("<form").Single(f => f.Contains("name=\"_handler\"", StringComparison.Ordinal)).Split("</form>")[0];
        return Inputs()
            .Matches(form)
            .Where(i =>
                !i.Value.Contains("type=\"checkbox\"", StringComparison.Ordinal)
                && !i.Value.Contains("type=\"file\"", StringComparison.Ordinal)
                && Of(i.Value, "name").Length > 0
            )
            .Select(i => (Name: Of(i.Value, "name"), Value: Of(i.Value, "value")))
            .Where(i => typed.All(t => t.Name != i.Name))
            .Concat(typed);
    }

    public static async Task<string> Words(this HttpResponseMessage answer) =>
        WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());

    /// <summary>Where an answer leads, without its host; its status where it leads nowhere.</summary>
    public static string Then(this HttpResponseMessage answer) =>
        answer.Headers.Location is not { } to ? $"{answer.StatusCode}"
        : to.IsAbsoluteUri ? to.PathAndQuery
        : to.ToString();

    private static string Of(string tag, string attribute) =>
        WebUtility.HtmlDecode(
            Regex
                .Match(tag, $"\\b{attribute}=\"(?<is>[^\"]*)\"", default, System.Text.RegularExpressions.Regex.InfiniteMatchTimeout)
                .Groups["is"]
                .Value
        );

    [GeneratedRegex("<input[^>]*>", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Inputs();
}
