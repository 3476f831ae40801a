using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>One person who walks every page that leads on from where they begin, and presses what is on them: first what adds, then what
/// ends things, and signing out last.</summary>
internal sealed partial class Walker(string who, IBrowserContext window, Doors doors, Ledger ledger, WalkPlan plan)
{
    private readonly Queue<string> _pages = new();
    private readonly HashSet<string> _kinds = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<string>> _forms = new(StringComparer.Ordinal);
    private readonly HashSet<string> _tried = new(StringComparer.Ordinal);
    private readonly HashSet<string> _again = new(StringComparer.Ordinal);
    private readonly HashSet<string> _pressed = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<string>> _latest = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<string>> _seenOn = new(StringComparer.Ordinal);
    private readonly List<(int Status, string Verb, string Url)> _answers = [];
    private string _password = plan.Password;
    private string _at = "";
    private string? _expected;
    private int _nth;

    public async Task Walk(params string[] from)
    {
        var page = await window.NewPageAsync();
        Listen(page);
        foreach (var path in from)
            _pages.Enqueue(new Uri(plan.Address, path).ToString());
        while (true)
        {
            if (_pages.TryDequeue(out var next))
            {
                await Look(page, next);
                continue;
            }

            var waiting = _forms.Where(f => !_pressed.Contains(f.Key) && f.Value.Count > 0).Select(f => f.Key).ToList();
            if (waiting.Count == 0)
                break;
            var form = waiting.OrderBy(Late).ThenBy(f => f, StringComparer.Ordinal).First();
            // The newest place is the likeliest to be there still.
            var at = _forms[form][^1];
            _forms[form].RemoveAt(_forms[form].Count - 1);
            if (!plan.Presses(form))
                continue;
            if (await Press(page, form, at))
            {
                _pressed.Add(form);
                ledger.Forms.TryAdd(form, who);
            }
            else if (_forms[form].Count == 0 && _tried.Add(form))
                _forms[form].AddRange(_seenOn[form].SelectMany(k => _latest.GetValueOrDefault(k, []).TakeLast(6)));
        }

        foreach (var (form, _) in _forms.Where(f => !_pressed.Contains(f.Key) && plan.Presses(f.Key)))
            Fault(form, "was seen, and is not there or cannot be seen where it was");
        await page.CloseAsync();
    }

    /// <summary>What ends things comes after what they are needed for.</summary>
    public static int Late(string form) =>
        form.Contains("/sign-out", StringComparison.Ordinal) ? 10
        : form.Contains("/me/address", StringComparison.Ordinal) ? 9
        : form.Contains("/me/sessions/", StringComparison.Ordinal) ? 7
        : form.StartsWith("GET ", StringComparison.Ordinal) || form.Contains("/care/{NoteId:guid}/end", StringComparison.Ordinal) ? 1
        : form.Contains("/plan", StringComparison.Ordinal) ? 4
        : form.Contains("VisitId:guid}/merge", StringComparison.Ordinal) ? 5
        : Account().IsMatch(form) ? 8
        : Grave().IsMatch(form) ? 7
        : Ends().IsMatch(form) ? 6
        : form.Contains("act=", StringComparison.Ordinal) ? 3
        : 2;

    private void Listen(IPage page)
    {
        page.Console += (_, message) =>
        {
            if (message.Type == "error" && _expected is null)
                Fault(_at, $"console: {message.Text}");
        };
        page.PageError += (_, error) => Fault(_at, $"page error: {error}");
        page.Dialog += async (_, dialog) => await dialog.AcceptAsync();
        page.Response += (_, answer) =>
        {
            ledger.AddResource();
            var request = answer.Request;
            lock (_answers)
                _answers.Add((answer.Status, request.Method, answer.Url));
            if (answer.Url.StartsWith(plan.Address.ToString(), StringComparison.Ordinal) && request.Method is not ("GET" or "HEAD"))
            {
                var door = doors.Of(request.Method, answer.Url);
                if (door is not null)
                    ledger.Sent.AddOrUpdate($"{request.Method} {door}", 1, (_, n) => n + 1);
            }
            if (answer.Status > 399 && _expected is null)
                Fault(_at, $"{request.Method} {doors.Of(request.Method, answer.Url) ?? answer.Url} answered {answer.Status}");
        };
    }

    private void Fault(string where, string what)
    {
        var line = $"{who}: {where}: {what}";
        if (!ledger.Faults.Contains(line, StringComparer.Ordinal))
            ledger.Faults.Enqueue(line);
    }

    /// <summary>The template of an address with the names of what it asks.</summary>
    private string Kind(string url)
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

    private async Task<bool> Go(IPage page, string url, WaitUntilState until = WaitUntilState.DOMContentLoaded)
    {
        for (var tries = 0; tries < 3; tries++)
        {
            IResponse? answer;
            try
            {
                answer = await page.GotoAsync(url, new() { WaitUntil = until });
            }
            catch (PlaywrightException e) when (e.Message.Contains("Download is starting", StringComparison.Ordinal))
            {
                return false;
            }
            catch (PlaywrightException e) when (e.Message.Contains("ERR_ABORTED", StringComparison.Ordinal))
            {
                continue;
            }

            var path = new Uri(page.Url).AbsolutePath;
            if (
                path is "/sign-in/again" or "/sign-in"
                && new Uri(url).AbsolutePath is not ("/sign-in/again" or "/sign-in")
                && plan.Email is not null
            )
            {
                await SignIn(page);
                continue;
            }

            return answer is null || answer.Status < 400;
        }

        return false;
    }

    /// <summary>One more browser of the same person.</summary>
    public async Task SignsIn()
    {
        var page = await window.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await SignIn(page);
    }

    private async Task SignIn(IPage page)
    {
        if (await page.Locator("main input[name=email]").CountAsync() > 0)
            await page.Locator("main input[name=email]").FillAsync(plan.Email!);
        await page.Locator("main input[type=password]").FillAsync(_password);
        await page.RunAndWaitForResponseAsync(
            () => page.Locator("main form:has(input[type=password]) button").First.ClickAsync(),
            answer => answer.Request.Method == "POST"
        );
        await page.WaitForLoadStateAsync(LoadState.Load);
    }

    private async Task Look(IPage page, string url)
    {
        _at = Kind(url);
        if (await Go(page, url, WaitUntilState.Load))
            await Take(page);
    }

    /// <summary>Notes what a page holds, and what it leads to.</summary>
    private async Task<PageRead> Take(IPage page)
    {
        var url = page.Url;
        var template = doors.Of("GET", url) ?? url;
        if (ledger.Pages.AddOrUpdate(template, 1, (_, n) => n + 1) > 0)
            _kinds.Add(Kind(url));
        var read = PageRead.Of<PageRead>(await page.EvaluateAsync<string>(PageScripts.Read));
        if (read.Ids.Count > 0)
            Fault(template, $"several elements have the id {string.Join(", ", read.Ids.Distinct(StringComparer.Ordinal))}");
        foreach (var form in read.Forms.Where(f => !f.Aside))
        {
            foreach (var button in form.Buttons.Where(b => !b.Aside))
            {
                var key = Key(form, button, template);
                if (!_forms.TryGetValue(key, out var places))
                    _forms[key] = places = [];
                if (!_seenOn.TryGetValue(key, out var kinds))
                    _seenOn[key] = kinds = new(StringComparer.Ordinal);
                kinds.Add(Kind(url));
                if (places.Contains(url, StringComparer.Ordinal))
                    continue;
                if (places.Count > 5)
                    places.RemoveAt(0);
                places.Add(url);
            }
        }

        foreach (var link in read.Links.Where(_ => plan.Follows))
            await Follow(link);
        return read;
    }

    private string Key(FormRead form, ButtonRead button, string page)
    {
        var action = button.Action.Length > 0 ? button.Action : form.Action;
        var says = page.Contains("/letter/", StringComparison.Ordinal) ? button.Says : "";
        var parts = new[]
        {
            form.Verb,
            doors.Of(form.Verb, action) ?? new Uri(action).AbsolutePath,
            form.Handler,
            form.Does,
            button.Does,
            says,
        };
        return string.Join(' ', parts.Where(p => p.Length > 0));
    }

    /// <summary>A page is looked at once a kind; whatever else a link leads to is asked for.</summary>
    private async Task Follow(string link)
    {
        var without = link.Split('#')[0];
        if (!without.StartsWith(plan.Address.ToString(), StringComparison.Ordinal))
            return;
        var kind = Kind(without);
        var template = kind.Split('?')[0];
        if (!_latest.TryGetValue(kind, out var latest))
            _latest[kind] = latest = [];
        if (latest.Count == 0 || latest[^1] != without)
        {
            latest.Remove(without);
            latest.Add(without);
        }
        if (_kinds.Add(kind))
        {
            ledger.Links.TryAdd(kind, 1);
            if (doors.Pages.Contains(template, StringComparer.Ordinal))
                _pages.Enqueue(without);
            else
                await Ask(without, kind);
        }
        // A page that takes a form and showed none may show it at the next address.
        else if (Formless(template) && latest.Count is > 1 and < 9 && _kinds.Add(without))
            _pages.Enqueue(without);
        else if (
            plan.Whole
            && _kinds.Add(without)
            && _kinds.Count(k => k.StartsWith("http", StringComparison.Ordinal)) < WalkPlan.MostLinks
        )
            await Ask(without, kind);
    }

    private bool Formless(string template) =>
        doors.Writing.Contains($"POST {template}", StringComparer.Ordinal)
        && doors.Pages.Contains(template, StringComparer.Ordinal)
        && !_forms.Keys.Any(f => f == $"POST {template}" || f.StartsWith($"POST {template} ", StringComparison.Ordinal));

    private async Task Ask(string url, string kind)
    {
        ledger.Links.AddOrUpdate(kind, 1, (_, n) => n + 1);
        var answer = await window.APIRequest.GetAsync(url);
        if (answer.Status > 399)
            Fault(kind, $"a link on {_at} leads there, and it answers {answer.Status}");
        else if (new Uri(answer.Url).AbsolutePath is "/not-yours" or "/nothing-here")
            Fault(kind, $"a link on {_at} leads there, and it answers with {new Uri(answer.Url).AbsolutePath}");
        await answer.DisposeAsync();
    }

    /// <returns>Whether it was there to be pressed.</returns>
    private async Task<bool> Press(IPage page, string key, string url)
    {
        _at = key;
        _nth++;
        // What was pressed since may have ended what stood there.
        _expected = "may be gone";
        if (!await Go(page, url))
            return false;
        _expected = null;
        var read = await Take(page);
        var template = doors.Of("GET", page.Url) ?? "";
        var (form, button) = Find(read, key, template);
        if (form is null)
            return false;
        var before = await Standing(page, form.At);
        var filled = PageRead.Of<Filled>(
            await page.EvaluateAsync<string>(
                PageScripts.Fill,
                new
                {
                    at = form.At,
                    nth = _nth,
                    today = plan.Today,
                    password = _password,
                    horse = plan.Horse,
                }
            )
        );
        if (!filled.Shown)
            return false;
        foreach (var file in filled.Files.Where(f => f.Required || form.Handler == "file"))
            await page.Locator("form").Nth(form.At).Locator("input[type=file]").First.SetInputFilesAsync(Picture);
        var saidBefore = await Wrong(page);
        var held = filled.Held.Where(h => filled.Files.Count == 0).ToList();
        if (held.Count > 0)
        {
            Fault(key, $"the page holds back what it takes by its own words: {string.Join("; ", held)}");
            return true;
        }

        var typed = await Standing(page, form.At);
        lock (_answers)
            _answers.Clear();
        var excused = Listed.Refusing(key);
        _expected = excused;
        await page.EvaluateAsync("() => { window.pressed = true; }");
        try
        {
            await page.EvaluateAsync(
                "([at, index]) => document.forms[at].elements[index].setAttribute('data-crawled', '')",
                new[] { form.At, button!.Index }
            );
            await page.Locator("[data-crawled]").First.ClickAsync(new() { Timeout = 5000 });
            await page.WaitForFunctionAsync(PageScripts.Answered, null, new() { Timeout = 8000, PollingInterval = 30 });
        }
        catch (Exception e) when (e is TimeoutException or PlaywrightException)
        {
            bool sent;
            lock (_answers)
                sent = _answers.Any(a => a.Verb == form.Verb);
            if (!sent)
                Fault(key, $"pressing “{button!.Says}” on {template} had no effect: {e.Message.Split('\n')[0]}");
        }

        var wrong = (await Wrong(page)).Except(saidBefore, StringComparer.Ordinal).ToArray();
        if (excused is not null)
        {
            if (wrong.Length > 0 || AnyRefused())
                ledger.Excused.AddOrUpdate(excused, 1, (_, n) => n + 1);
            _expected = null;
            return true;
        }

        if (wrong.Any(w => w.Contains("in the meantime", StringComparison.Ordinal)) && _again.Add(key))
            return await Press(page, key, url);
        if (wrong.Length > 0)
        {
            Fault(key, $"on {template}: {string.Join("; ", wrong)} [{string.Join(", ", typed.Select(t => $"{t.Name}={t.Value}"))}]");
            return true;
        }

        if (new Uri(page.Url).AbsolutePath is "/not-yours" or "/nothing-here")
            Fault(key, $"leads to {new Uri(page.Url).AbsolutePath}");
        if (key.StartsWith("POST /me/password", StringComparison.Ordinal))
            _password += " still";
        if (button!.Does.StartsWith("Form.Press=", StringComparison.Ordinal))
            await Kept(page, key, template, typed);
        else if (form.Verb != "GET")
            await Compare(page, key, url, template, before, typed);
        else
            await Take(page);
        return true;
    }

    private bool AnyRefused()
    {
        lock (_answers)
            return _answers.Any(a => a.Status > 399);
    }

    private (FormRead? Form, ButtonRead? Button) Find(PageRead read, string key, string template)
    {
        // On lists of people, somebody else rather than oneself.
        foreach (
            var form in read
                .Forms.Where(f => !f.Aside)
                .OrderBy(f => plan.Email is not null && f.Near.Contains(plan.Email, StringComparison.Ordinal))
        )
        {
            foreach (var button in form.Buttons.Where(b => !b.Aside && Key(form, b, template) == key))
                return (form, button);
        }

        return (null, null);
    }

    private static async Task<List<FieldRead>> Standing(IPage page, int form) =>
        PageRead.Of<List<FieldRead>>(await page.EvaluateAsync<string>(PageScripts.Standing, form));

    private static async Task<string[]> Wrong(IPage page) => await page.EvaluateAsync<string[]>(PageScripts.Wrong);

    /// <summary>A press that saves nothing yet keeps what was typed.</summary>
    private async Task Kept(IPage page, string key, string template, List<FieldRead> typed)
    {
        var read = await Take(page);
        var now = Find(read, key, template).Form is { } form ? await Standing(page, form.At) : [];
        ledger.AddCompared(typed.Count);
        foreach (var lost in typed.Where(t => now.FirstOrDefault(n => n.Name == t.Name) is not { } same || !Same(same.Value, t.Value)))
            Fault($"{key} {lost.Name.Split('#')[0]}", $"“{lost.Value}” is not kept by a press that saves nothing");
    }

    /// <summary>Whatever was typed stands in the form's page or on the page to which it led: in the same field, or in its
    /// words.</summary>
    private async Task Compare(IPage page, string key, string url, string template, List<FieldRead> before, List<FieldRead> typed)
    {
        var landed = await page.EvaluateAsync<string>(PageScripts.Words);
        var there = page.Url;
        var led = await Take(page);
        if (key.Contains("/visits/new visit", StringComparison.Ordinal))
        {
            // A visit is shown on a page of its own.
            await Go(page, url[..url.IndexOf("/visits/", StringComparison.Ordinal)]);
            led = await Take(page);
            there = led.Links.FirstOrDefault(l => doors.Of("GET", l) == "/horses/{HorseId:guid}/visits/{VisitId:guid}") ?? there;
        }
        var adds = key.Contains("/new ", StringComparison.Ordinal);
        typed = [.. typed.Where(t => !Excused($"{key} {Which().Replace(t.Name.Split('#')[0], "[]")}"))];
        ledger.AddCompared(typed.Count);
        var missing = typed;
        for (var look = 0; look < 7; look++)
        {
            var words = landed;
            List<FieldRead> now = [];
            _expected = "what was ended is looked for";
            if (await Go(page, url) && doors.Of("GET", page.Url) == template)
            {
                words += await page.EvaluateAsync<string>(PageScripts.Words);
                var read = PageRead.Of<PageRead>(await page.EvaluateAsync<string>(PageScripts.Read));
                if (Find(read, key, template).Form is { } form)
                    now = await Standing(page, form.At);
            }

            _expected = null;
            // A form that adds stands empty afterwards.
            var texts = typed.Where(t => t.Value.Length > 0 && t.Type is not ("checkbox" or "radio" or "select")).ToList();
            var empty = adds || (texts.Count > 0 && texts.All(t => now.FirstOrDefault(f => f.Name == t.Name)?.Value != t.Value));
            missing = [.. typed.Where(t => !IsShown(t, empty ? [] : now, words))];
            if (missing.Count == 0)
                return;
            await Task.Delay(150);
            if (there != url)
            {
                await Go(page, there);
                landed = await page.EvaluateAsync<string>(PageScripts.Words);
            }
        }

        foreach (var field in missing)
        {
            var was = before.FirstOrDefault(b => b.Name == field.Name)?.Value;
            Fault(
                $"{key} {field.Name.Split('#')[0]}",
                $"“{field.Value}”{(was is { Length: > 0 } ? $" (was “{was}”)" : "")} of {template} is not what is shown afterwards"
            );
        }
    }

    private bool Excused(string field)
    {
        if (Listed.Excuse(field) is not { } excuse)
            return false;
        ledger.Excused.AddOrUpdate(excuse, 1, (_, n) => n + 1);
        return true;
    }

    private static bool IsShown(FieldRead typed, List<FieldRead> now, string words)
    {
        if (typed.Value.Length == 0)
            return true;
        if (now.FirstOrDefault(f => f.Name == typed.Name) is { } same && Same(same.Value, typed.Value))
            return true;
        if (typed.Type is "checkbox")
            return now.All(f => f.Name != typed.Name);
        if (typed.Type is "radio")
            return now.All(f => f.Name != typed.Name);
        foreach (var said in Said(typed))
        {
            if (words.Contains(said, StringComparison.OrdinalIgnoreCase))
                return true;
        }

        return false;
    }

    private static bool Same(string a, string b) =>
        a.Trim().ReplaceLineEndings("\n") == b.Trim().ReplaceLineEndings("\n")
        || (Number(a) is { } x && Number(b) is { } y && Math.Abs(x - y) < 1e-9);

    private static double? Number(string text) =>
        double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value : null;

    private static IEnumerable<string> Said(FieldRead typed)
    {
        if (typed.Says.Length > 0)
        {
            yield return typed.Says;
            yield return typed.Says.Split(',')[0].Trim();
        }
        else if (Uri.TryCreate(typed.Value, UriKind.Absolute, out var address))
            yield return address.Host;
        else
            yield return Spaces().Replace(typed.Value.Trim(), " ");
        if (
            DateTime.TryParseExact(
                typed.Value,
                ["yyyy-MM-dd", "yyyy-MM-ddTHH:mm"],
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var day
            )
        )
        {
            foreach (var form in new[] { "d MMMM", "d MMM" })
                yield return day.ToString(form, CultureInfo.InvariantCulture);
        }
    }

    /// <summary>A picture of one point.</summary>
    public static readonly byte[] Dot = Convert.FromBase64String(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
    );

    private static FilePayload Picture =>
        new()
        {
            Name = "picture.png",
            MimeType = "image/png",
            Buffer = Dot,
        };

    [GeneratedRegex(@"[?&](?<name>[^=&]+)", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Asked();

    [GeneratedRegex(@"\[[^\]]*\]", RegexOptions.None, 1000)]
    private static partial Regex Which();

    [GeneratedRegex(@"\s+", RegexOptions.None, 1000)]
    private static partial Regex Spaces();

    [GeneratedRegex("/(me|sign-in|practice/members)/?", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Account();

    [GeneratedRegex(
        @"(HorseId:guid\}|SaddleId:guid\})/(withdraw|merge|sell)|/erase|VisitId:guid\}/(withdraw|merge|give)|/yards/.*/remove",
        RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex Grave();

    [GeneratedRegex("withdraw|remove|/end|take-back|retire|take-off|close|act=done|finish|cancel", RegexOptions.None, 1000)]
    private static partial Regex Ends();
}
