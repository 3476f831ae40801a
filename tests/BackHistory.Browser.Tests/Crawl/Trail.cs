namespace BackHistory.Browser.Tests.Crawl;

/// <summary>Where the pages of a walk lead: what is still to be looked at, and what was asked for.</summary>
internal sealed class Trail(Visitor visitor, Doors doors, Ledger ledger, WalkPlan plan)
{
    private readonly Queue<string> _pages = new();
    private readonly HashSet<string> _kinds = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<string>> _latest = new(StringComparer.Ordinal);

    public int Waiting => _pages.Count;

    public void Begin(string path) => _pages.Enqueue(new Uri(plan.Address, path).ToString());

    public string? Next() => _pages.TryDequeue(out var next) ? next : null;

    public void Seen(string kind) => _kinds.Add(kind);

    /// <summary>The addresses of a kind that were met last.</summary>
    public IEnumerable<string> Latest(string kind) => _latest.GetValueOrDefault(kind, []).TakeLast(6);

    /// <summary>A page is looked at once a kind; whatever else a link leads to is asked for.</summary>
    /// <param name="hasForms">Whether a form of a page of this template was met.</param>
    public async Task Follow(string link, Func<string, bool> hasForms)
    {
        var without = link.Split('#')[0];
        if (!without.StartsWith(plan.Address.ToString(), StringComparison.Ordinal))
            return;
        var kind = visitor.Kind(without);
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
        // A page that takes a form and showed none may show it at the next address; and what ends something at one leaves another.
        else if (latest.Count > 1 && latest.Count < More(template, hasForms) && _kinds.Add(without))
            _pages.Enqueue(without);
        else if (
            plan.Whole
            && _kinds.Add(without)
            && _kinds.Count(k => k.StartsWith("http", StringComparison.Ordinal)) < WalkPlan.MostLinks
        )
            await Ask(without, kind);
    }

    /// <summary>How many addresses of a page are looked at.</summary>
    private int More(string template, Func<string, bool> hasForms) =>
        TakesForms(template) && !hasForms(template) ? 9
        : plan.Whole && doors.Pages.Contains(template, StringComparer.Ordinal) ? 4
        : 0;

    private bool TakesForms(string template) =>
        doors.Writing.Contains($"POST {template}", StringComparer.Ordinal) && doors.Pages.Contains(template, StringComparer.Ordinal);

    private async Task Ask(string url, string kind)
    {
        ledger.Links.AddOrUpdate(kind, 1, (_, n) => n + 1);
        if (await visitor.Asks(url) is { } wrong)
            visitor.Fault(kind, $"a link on {visitor.At} leads there, and {wrong}");
    }
}
