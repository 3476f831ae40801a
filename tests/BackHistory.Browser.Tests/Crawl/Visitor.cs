using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>One person at one browser: goes to addresses, signs in where that is asked, and hears every answer and complaint.</summary>
internal sealed partial class Visitor(string who, IBrowserContext window, Doors doors, Ledger ledger, WalkPlan plan)
{
    private readonly List<(int Status, string Verb)> _answers = [];

    /// <summary>What they sign in with now.</summary>
    public string Password { get; set; } = plan.Password;

    /// <summary>What faults are told of.</summary>
    public string At { get; set; } = "";

    /// <summary>Why a refusal is no fault just now.</summary>
    public string? Expected { get; set; }

    public IPage Page { get; private set; } = null!;

    public async Task<List<FieldRead>> Standing(int form) =>
        PageRead.Of<List<FieldRead>>(await Page.EvaluateAsync<string>(PageScripts.Standing, form));

    public async Task<string[]> Wrong() => await Page.EvaluateAsync<string[]>(PageScripts.Wrong);

    public async Task<PageRead> Reads() => PageRead.Of<PageRead>(await Page.EvaluateAsync<string>(PageScripts.Read));

    public async Task Opens()
    {
        Page = await window.NewPageAsync();
        Page.Console += (_, message) =>
        {
            if (message.Type == "error" && Expected is null)
                Fault(At, $"console: {message.Text}");
        };
        Page.PageError += (_, error) => Fault(At, $"page error: {error}");
        Page.Dialog += async (_, dialog) => await dialog.AcceptAsync();
        Page.Response += (_, answer) => Hear(answer);
    }

    private void Hear(IResponse answer)
    {
        ledger.AddResource();
        var verb = answer.Request.Method;
        lock (_answers)
            _answers.Add((answer.Status, verb));
        if (answer.Url.StartsWith(plan.Address.ToString(), StringComparison.Ordinal) && verb is not ("GET" or "HEAD"))
        {
            if (doors.Of(verb, answer.Url) is { } door)
                ledger.Sent.AddOrUpdate($"{verb} {door}", 1, (_, n) => n + 1);
        }
        if (answer.Status > 399 && Expected is null)
            Fault(At, $"{verb} {doors.Of(verb, answer.Url) ?? answer.Url} answered {answer.Status}");
    }

    public void Fault(string where, string what) => ledger.Fault($"{who}: {where}: {what}");

    /// <summary>Answers are counted from here.</summary>
    public void ListensAnew()
    {
        lock (_answers)
            _answers.Clear();
    }

    public bool WasAnswered(string verb)
    {
        lock (_answers)
            return _answers.Any(a => a.Verb == verb);
    }

    public bool WasRefused()
    {
        lock (_answers)
            return _answers.Any(a => a.Status > 399);
    }

    /// <summary>The template of an address with the names of what it asks.</summary>
    public string Kind(string url)
    {
        var uri = new Uri(url);
        var asked = Asked()
            .Matches(uri.Query)
            .Select(m => m.Groups["name"].Value)
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal);
        var names = string.Join('&', asked);
        return (doors.Of("GET", url) ?? uri.AbsolutePath) + (names.Length == 0 ? "" : $"?{names}");
    }

    public async Task<bool> Go(string url, WaitUntilState until = WaitUntilState.DOMContentLoaded)
    {
        for (var tries = 0; tries < 3; tries++)
        {
            IResponse? answer;
            try
            {
                answer = await Page.GotoAsync(url, new() { WaitUntil = until });
            }
            catch (PlaywrightException e) when (e.Message.Contains("Download is starting", StringComparison.Ordinal))
            {
                return false;
            }
            catch (PlaywrightException e) when (e.Message.Contains("ERR_ABORTED", StringComparison.Ordinal))
            {
                continue;
            }

            var path = new Uri(Page.Url).AbsolutePath;
            if (
                path is "/sign-in/again" or "/sign-in"
                && new Uri(url).AbsolutePath is not ("/sign-in/again" or "/sign-in")
                && plan.Email is not null
            )
            {
                await SignIn();
                continue;
            }

            return answer is null || answer.Status < 400;
        }

        return false;
    }

    /// <summary>One more browser of the same person.</summary>
    public async Task SignsIn()
    {
        await Opens();
        await Page.GotoAsync("/sign-in");
        await SignIn();
    }

    private async Task SignIn()
    {
        if (await Page.Locator("main input[name=email]").CountAsync() > 0)
            await Page.Locator("main input[name=email]").FillAsync(plan.Email!);
        await Page.Locator("main input[type=password]").FillAsync(Password);
        await Page.RunAndWaitForResponseAsync(
            () => Page.Locator("main form:has(input[type=password]) button").First.ClickAsync(),
            answer => answer.Request.Method == "POST"
        );
        await Page.WaitForLoadStateAsync(LoadState.Load);
    }

    /// <summary>Asks for an address without looking at it.</summary>
    /// <returns>What is wrong with the answer.</returns>
    public async Task<string?> Asks(string url)
    {
        var answer = await window.APIRequest.GetAsync(url);
        var led = new Uri(answer.Url).AbsolutePath;
        var wrong =
            answer.Status > 399 ? $"it answers {answer.Status}"
            : led is "/not-yours" or "/nothing-here" ? $"it answers with {led}"
            : null;
        await answer.DisposeAsync();
        return wrong;
    }

    [GeneratedRegex(@"[?&](?<name>[^=&]+)", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Asked();
}
