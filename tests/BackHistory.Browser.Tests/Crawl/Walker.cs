using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>One person who walks every page that leads on from where they begin, and presses what is on them.</summary>
internal sealed class Walker
{
    private readonly string _who;
    private readonly Visitor _visitor;
    private readonly Doors _doors;
    private readonly Ledger _ledger;
    private readonly WalkPlan _plan;
    private readonly Trail _trail;
    private readonly FormBook _forms;
    private readonly Presser _presser;
    private readonly Stopwatch _walks = Stopwatch.StartNew();
    private TimeSpan _told;

    public Walker(string who, IBrowserContext window, Doors doors, Ledger ledger, WalkPlan plan)
    {
        (_who, _doors, _ledger, _plan) = (who, doors, ledger, plan);
        _visitor = new Visitor(who, window, doors, ledger, plan);
        _trail = new Trail(_visitor, doors, ledger, plan);
        _forms = new FormBook(doors, plan);
        _presser = new Presser(_visitor, doors, ledger, plan, _forms, Take);
    }

    /// <summary>One more browser of the same person.</summary>
    public Task SignsIn() => _visitor.SignsIn();

    public async Task Walk(params string[] from)
    {
        await _visitor.Opens();
        foreach (var path in from)
            _trail.Begin(path);
        while (true)
        {
            Tell();
            if (_trail.Next() is { } page)
                await Look(page);
            else if (_forms.Next() is var (form, at))
                await Press(form, at);
            else
                break;
        }

        foreach (var (form, why) in _forms.Left)
            _visitor.Fault(form, $"was seen and could not be pressed: {why}");
        await _visitor.Page.CloseAsync();
    }

    private async Task Press(string form, string at)
    {
        if (await _presser.Press(form, at) is { } why)
        {
            _forms.IsNotThere(form, why, _trail.Latest);
            return;
        }

        _forms.IsPressed(form);
        _ledger.Forms.TryAdd(form, _who);
    }

    private async Task Look(string url)
    {
        _visitor.At = _visitor.Kind(url);
        if (await _visitor.Go(url, WaitUntilState.Load))
            await Take();
    }

    /// <summary>Notes what a page holds, and what it leads to.</summary>
    private async Task<PageRead> Take()
    {
        var url = _visitor.Page.Url;
        var template = _doors.Of("GET", url) ?? url;
        var kind = _visitor.Kind(url);
        _ledger.Pages.AddOrUpdate(template, 1, (_, n) => n + 1);
        _trail.Seen(kind);
        var read = await _visitor.Reads();
        if (read.Ids.Count > 0)
            _visitor.Fault(template, $"several elements have the id {string.Join(", ", read.Ids.Distinct(StringComparer.Ordinal))}");
        _forms.Note(read, url, template, kind);
        foreach (var link in read.Links.Where(_ => _plan.Follows))
            await _trail.Follow(link, _forms.HasFormsOf);
        return read;
    }

    /// <summary>A walk of minutes says now and then how far it is.</summary>
    private void Tell()
    {
        if (!_plan.Whole || _walks.Elapsed - _told < TimeSpan.FromSeconds(20))
            return;
        _told = _walks.Elapsed;
        Ledger.Tell(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{_who}: {_told.TotalSeconds:0} s, {_trail.Waiting} pages to look at, {_forms.Pressed} of {_forms.Known} forms pressed"
            )
        );
    }
}
