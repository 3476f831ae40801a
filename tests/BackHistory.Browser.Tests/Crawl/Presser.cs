using Microsoft.Playwright;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>Fills a form by rules, presses a button of it and looks at what came of it.</summary>
/// <param name="take">Notes what the page holds on which the visitor stands.</param>
internal sealed class Presser(Visitor visitor, Doors doors, Ledger ledger, WalkPlan plan, FormBook forms, Func<Task<PageRead>> take)
{
    /// <summary>On a busy machine a page takes its time; only what has no effect costs all of it.</summary>
    private const float Patience = 30_000;

    private readonly Comparison _comparison = new(visitor, doors, ledger, forms, take);
    private readonly HashSet<string> _again = new(StringComparer.Ordinal);
    private int _nth;

    /// <returns>Why it could not be pressed; null once it was.</returns>
    public async Task<string?> Press(string key, string url)
    {
        visitor.At = key;
        _nth++;
        // What was pressed since may have ended what stood there.
        visitor.Expected = "may be gone";
        if (!await visitor.Go(url))
            return $"its page {Where(url)} is gone";
        visitor.Expected = null;
        var read = await take();
        var template = doors.Of("GET", visitor.Page.Url) ?? "";
        if (forms.Find(read, key, template) is not ({ } form, { } button))
            return $"it no longer stands on {Where(url)}";
        var before = await visitor.Standing(form.At);
        var filled = await Fill(form.At);
        if (!filled.Shown)
            return $"it cannot be seen on {Where(url)}";
        foreach (var file in filled.Files.Where(f => f.Required || form.Handler == "file"))
            await visitor.Page.Locator("form").Nth(form.At).Locator("input[type=file]").First.SetInputFilesAsync(AFile.Picture);
        var saidBefore = await visitor.Wrong();
        var held = filled.Held.Where(_ => filled.Files.Count == 0).ToList();
        if (held.Count > 0)
        {
            visitor.Fault(key, $"the page holds back what it takes by its own words: {string.Join("; ", held)}");
            return null;
        }

        var typed = await visitor.Standing(form.At);
        visitor.ListensAnew();
        var excused = Listed.Refusing(key);
        visitor.Expected = excused;
        await Click(form, button, key, template);
        var wrong = (await visitor.Wrong()).Except(saidBefore, StringComparer.Ordinal).ToArray();
        if (excused is not null)
        {
            if (wrong.Length > 0 || visitor.WasRefused())
                ledger.Excused.AddOrUpdate(excused, 1, (_, n) => n + 1);
            visitor.Expected = null;
            return null;
        }

        if (wrong.Any(w => w.Contains("in the meantime", StringComparison.Ordinal)) && _again.Add(key))
            return await Press(key, url);
        if (wrong.Length > 0)
        {
            var said = string.Join(", ", typed.Select(t => $"{t.Name}={t.Value}"));
            visitor.Fault(key, $"on {template}: {string.Join("; ", wrong)} [{said}]");
            return null;
        }

        if (new Uri(visitor.Page.Url).AbsolutePath is "/not-yours" or "/nothing-here")
            visitor.Fault(key, $"leads to {new Uri(visitor.Page.Url).AbsolutePath}");
        if (key.StartsWith("POST /me/password", StringComparison.Ordinal))
            visitor.Password += " still";
        if (button.Does.StartsWith("Form.Press=", StringComparison.Ordinal))
            await _comparison.Kept(key, template, typed);
        else if (form.Verb != "GET")
            await _comparison.Compare(key, url, template, before, typed);
        else
            await take();
        return null;
    }

    private static string Where(string url) => new Uri(url).PathAndQuery;

    private async Task<Filled> Fill(int at) =>
        PageRead.Of<Filled>(
            await visitor.Page.EvaluateAsync<string>(
                PageScripts.Fill,
                new
                {
                    at,
                    nth = _nth,
                    today = plan.Today,
                    password = visitor.Password,
                    horse = plan.Horse,
                }
            )
        );

    private async Task Click(FormRead form, ButtonRead button, string key, string template)
    {
        await visitor.Page.EvaluateAsync("() => { window.pressed = true; }");
        try
        {
            await visitor.Page.EvaluateAsync(
                "([at, index]) => document.forms[at].elements[index].setAttribute('data-crawled', '')",
                new[] { form.At, button.Index }
            );
            await visitor.Page.Locator("[data-crawled]").First.ClickAsync(new() { Timeout = Patience });
            await visitor.Page.WaitForFunctionAsync(PageScripts.Answered, null, new() { Timeout = Patience, PollingInterval = 30 });
        }
        catch (Exception e) when (e is TimeoutException or PlaywrightException)
        {
            await visitor.Page.WaitForLoadStateAsync(LoadState.DOMContentLoaded);
            if (!visitor.WasAnswered(form.Verb))
                visitor.Fault(key, $"pressing “{button.Says}” on {template} had no effect: {e.Message.Split('\n')[0]}");
        }
    }
}
