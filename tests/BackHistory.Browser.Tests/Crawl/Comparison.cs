using System.Text.RegularExpressions;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>What was typed against what is shown after it was sent.</summary>
internal sealed partial class Comparison(Visitor visitor, Doors doors, Ledger ledger, FormBook forms, Func<Task<PageRead>> take)
{
    /// <summary>A press that saves nothing yet keeps what was typed.</summary>
    public async Task Kept(string key, string template, List<FieldRead> typed)
    {
        var read = await take();
        var now = forms.Find(read, key, template).Form is { } form ? await visitor.Standing(form.At) : [];
        ledger.AddCompared(typed.Count);
        foreach (
            var lost in typed.Where(t => now.FirstOrDefault(n => n.Name == t.Name) is not { } same || !Shown.Same(same.Value, t.Value))
        )
            visitor.Fault($"{key} {lost.Name.Split('#')[0]}", $"“{lost.Value}” is not kept by a press that saves nothing");
    }

    /// <summary>Whatever was typed stands in the form's page or on the page to which it led: in the same field, or in its
    /// words.</summary>
    public async Task Compare(string key, string url, string template, List<FieldRead> before, List<FieldRead> typed)
    {
        var landed = await visitor.Page.EvaluateAsync<string>(PageScripts.Words);
        var there = Listed.ShownAt(key) is { } list ? new Uri(new Uri(url), list).ToString() : visitor.Page.Url;
        await take();
        var adds = key.Contains("/new ", StringComparison.Ordinal);
        // A line of a list that is not ticked is left as it is.
        typed = [.. typed.Where(t => !typed.Exists(line => line.Value == "false" && IsTick(line) && OfLine(line) == OfLine(t)))];
        typed = [.. typed.Where(t => !Excused($"{key} {Which().Replace(t.Name.Split('#')[0], "[]")}"))];
        ledger.AddCompared(typed.Count);
        var missing = typed;
        for (var look = 0; look < 7; look++)
        {
            var words = landed;
            List<FieldRead> now = [];
            visitor.Expected = "what was ended is looked for";
            if (await visitor.Go(url) && doors.Of("GET", visitor.Page.Url) == template)
            {
                words += await visitor.Page.EvaluateAsync<string>(PageScripts.Words);
                var read = await visitor.Reads();
                if (forms.Find(read, key, template).Form is { } form)
                    now = await visitor.Standing(form.At);
            }

            visitor.Expected = null;
            // A form that adds stands empty afterwards.
            var texts = typed.Where(t => t.Value.Length > 0 && t.Type is not ("checkbox" or "radio" or "select")).ToList();
            var empty = adds || (texts.Count > 0 && texts.All(t => now.FirstOrDefault(f => f.Name == t.Name)?.Value != t.Value));
            missing = [.. typed.Where(t => !Shown.Is(t, empty ? [] : now, words))];
            if (missing.Count == 0)
                return;
            await Task.Delay(150);
            there = await OfVisit(key, url) ?? there;
            if (there != url)
            {
                await visitor.Go(there);
                landed = await visitor.Page.EvaluateAsync<string>(PageScripts.Words);
            }
        }

        foreach (var field in missing)
        {
            var was = before.FirstOrDefault(b => b.Name == field.Name)?.Value;
            visitor.Fault(
                $"{key} {field.Name.Split('#')[0]}",
                $"“{field.Value}”{(was is { Length: > 0 } ? $" (was “{was}”)" : "")} of {template} is not what is shown afterwards"
            );
        }
    }

    /// <summary>A visit is shown on a page of its own, to which its horse leads once it is there.</summary>
    private async Task<string?> OfVisit(string key, string url)
    {
        if (!key.Contains("/visits/new visit", StringComparison.Ordinal))
            return null;
        await visitor.Go(url[..url.IndexOf("/visits/", StringComparison.Ordinal)]);
        return (await take()).Links.FirstOrDefault(l => doors.Of("GET", l) == "/horses/{HorseId:guid}/visits/{VisitId:guid}");
    }

    private static bool IsTick(FieldRead field) => field.Name.StartsWith("Form.Take[", StringComparison.Ordinal);

    private static string OfLine(FieldRead field) => Which().Match(field.Name).Value;

    private bool Excused(string field)
    {
        if (Listed.Excuse(field) is not { } excuse)
            return false;
        ledger.Excused.AddOrUpdate(excuse, 1, (_, n) => n + 1);
        return true;
    }

    [GeneratedRegex(@"\[[^\]]*\]", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Which();
}
