using System.Net;
using System.Text.RegularExpressions;

namespace BackHistory.Service.Tests;

/// <summary>What a browser does without its scripts: keeps cookies, sends forms with the tokens that their pages carry.</summary>
public sealed partial class Browser : IDisposable
{
    private readonly HttpClient _client;

    public Browser(Uri address)
    {
        _client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, CookieContainer = Cookies }) { BaseAddress = address };
        _client.DefaultRequestHeaders.UserAgent.ParseAdd("Mozilla/5.0 (Linux; Android 16) Firefox/150.0");
    }

    public CookieContainer Cookies { get; } = new();

    public HttpClient Client => _client;

    public Task<HttpResponseMessage> Get(string path) => _client.GetAsync(path);

    public Task<string> Page(string path) => _client.GetStringAsync(path);

    /// <summary>Looks at a page until its words are there: read models follow a moment later.</summary>
    public async Task<string> Until(string path, string words)
    {
        for (var i = 0; i < 3000; i++)
        {
            // What was entered just now is not found for a moment yet.
            using var answer = await Get(path);
            var page = await answer.Content.ReadAsStringAsync();
            if (answer.IsSuccessStatusCode && page.Contains(words, StringComparison.Ordinal))
                return page;
            await Task.Delay(100);
        }

        throw new InvalidOperationException($"'{words}' did not come up on {path} in five minutes");
    }

    /// <summary>Looks at a page until its words are gone.</summary>
    public async Task UntilGone(string path, string words)
    {
        for (var i = 0; i < 3000; i++)
        {
            if (!(await Page(path)).Contains(words, StringComparison.Ordinal))
                return;
            await Task.Delay(100);
        }

        throw new InvalidOperationException($"'{words}' still stood on {path} after five minutes");
    }

    /// <summary>Opens a page, fills one of its forms in and sends it.</summary>
    /// <param name="action">Where the form goes; must stand on the page.</param>
    public async Task<HttpResponseMessage> Send(string page, string action, params (string Name, string Value)[] fields)
    {
        var html = await Served(page);
        var form =
            Forms().Matches(html).FirstOrDefault(f => WebUtility.HtmlDecode(f.Groups["action"].Value) == action)
            ?? throw new InvalidOperationException($"no form to {action} stands on {page}:\n{html}");
        var values = Inputs()
            .Matches(form.Value)
            .Select(i => (Name: Of(i.Value, "name"), Value: Of(i.Value, "value") ?? ""))
            .Where(i => i.Name is not null && (fields.All(f => f.Name != i.Name)))
            .Select(i => new KeyValuePair<string, string>(i.Name!, i.Value))
            .Concat(fields.Select(f => new KeyValuePair<string, string>(f.Name, f.Value)));
        return await _client.PostAsync(action, new FormUrlEncodedContent(values));
    }

    /// <summary>A page that the service could not make at this moment is asked for again, as its reader would: a busy machine is no
    /// finding.</summary>
    private async Task<string> Served(string page)
    {
        for (var i = 0; ; i++)
        {
            using var answer = await Get(page);
            if (answer.StatusCode != HttpStatusCode.ServiceUnavailable || i == 300)
                return await answer.Content.ReadAsStringAsync();
            await Task.Delay(1000);
        }
    }

    public async Task SignIn(string email, string password)
    {
        var answer = await Send("/sign-in", "/sign-in", ("email", email), ("password", password));
        if (answer.Headers.Location?.ToString().Contains("failed", StringComparison.Ordinal) != false)
            throw new InvalidOperationException($"not signed in: {answer.StatusCode} {answer.Headers.Location}");
    }

    public void Dispose() => _client.Dispose();

    private static string? Of(string tag, string attribute) =>
        Regex.Match(tag, $"\\b{attribute}=\"(?<v>[^\"]*)\"", RegexOptions.None, Regex.InfiniteMatchTimeout) is { Success: true } m
            ? WebUtility.HtmlDecode(m.Groups["v"].Value)
            : null;

    [GeneratedRegex("<form[^>]*action=\"(?<action>[^\"]*)\".*?</form>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Forms();

    [GeneratedRegex("<input[^>]*type=\"hidden\"[^>]*>", RegexOptions.Singleline, Timeout.Infinite)]
    private static partial Regex Inputs();
}
