namespace BackHistory.Browser.Tests.Crawl;

/// <summary>The forms that a walk met: where each stands, and whether it was pressed.</summary>
internal sealed class FormBook(Doors doors, WalkPlan plan)
{
    private readonly Dictionary<string, List<string>> _places = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<string>> _seenOn = new(StringComparer.Ordinal);
    private readonly HashSet<string> _tried = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _why = new(StringComparer.Ordinal);
    private readonly HashSet<string> _pressed = new(StringComparer.Ordinal);

    public int Pressed => _pressed.Count;

    public int Known => _places.Keys.Count(plan.Presses);

    /// <summary>What was met and never pressed.</summary>
    public IReadOnlyList<(string Form, string Why)> Left =>
        [
            .. _places
                .Keys.Where(f => !_pressed.Contains(f) && plan.Presses(f))
                .Select(f => (f, _why.GetValueOrDefault(f, "it was not tried"))),
        ];

    /// <param name="kind">Of the page's address.</param>
    public void Note(PageRead read, string url, string template, string kind)
    {
        foreach (var form in read.Forms.Where(f => !f.Aside))
        {
            foreach (var key in form.Buttons.Where(b => !b.Aside).Select(b => Key(form, b, template)))
                Note(key, url, kind);
        }
    }

    private void Note(string key, string url, string kind)
    {
        if (!_places.TryGetValue(key, out var places))
            _places[key] = places = [];
        if (!_seenOn.TryGetValue(key, out var kinds))
            _seenOn[key] = kinds = new(StringComparer.Ordinal);
        kinds.Add(kind);
        if (places.Contains(url, StringComparer.Ordinal))
            return;
        if (places.Count > 5)
            places.RemoveAt(0);
        places.Add(url);
    }

    /// <summary>The form whose turn it is, and where it may stand: the newest place is the likeliest to be there still.</summary>
    public (string Form, string At)? Next()
    {
        var form = _places
            .Where(f => f.Value.Count > 0 && !_pressed.Contains(f.Key) && plan.Presses(f.Key))
            .Select(f => f.Key)
            .OrderBy(FormOrder.Late)
            .ThenBy(f => f, StringComparer.Ordinal)
            .FirstOrDefault();
        if (form is null)
            return null;
        var at = _places[form][^1];
        _places[form].RemoveAt(_places[form].Count - 1);
        return (form, at);
    }

    public void IsPressed(string form) => _pressed.Add(form);

    /// <summary>Where nothing of a form is left, it is looked for once more at the newest addresses of its pages.</summary>
    public void IsNotThere(string form, string why, Func<string, IEnumerable<string>> latest)
    {
        _why[form] = why;
        if (_places[form].Count == 0 && _tried.Add(form))
            _places[form].AddRange(_seenOn[form].SelectMany(latest));
    }

    /// <summary>Whether a form that is sent to its own page was met on one of this template.</summary>
    public bool HasFormsOf(string template) =>
        _places.Keys.Any(f => f == $"POST {template}" || f.StartsWith($"POST {template} ", StringComparison.Ordinal));

    public (FormRead? Form, ButtonRead? Button) Find(PageRead read, string key, string template)
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
}
