using BackHistory.History.Horses;
using BackHistory.Store.Horses;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Visits;

/// <summary>A page with one form about one entry of a visit that stands.</summary>
public abstract class EntryPage : VisitFormPage
{
    [Parameter]
    public Guid EntryId { get; set; }

    [Inject]
    public VisitQueries VisitsEntered { get; set; } = null!;

    [Inject]
    public BackHistory.Store.Notes.NoteQueries Notes { get; set; } = null!;

    /// <summary>Null where the visit has none that this page is about.</summary>
    protected EntryRecord? Entry { get; private set; }

    /// <summary>The entry as it was entered.</summary>
    protected IVisitEntryEvent? Entered { get; private set; }

    /// <summary>Its words, where it is a note that was not erased.</summary>
    protected string? Words { get; private set; }

    /// <summary>Whether the page is about entries that stand; otherwise about those that do not.</summary>
    protected virtual bool OfStandingEntry => true;

    /// <summary>Fills a form that was not sent.</summary>
    protected abstract void Fill();

    protected sealed override async Task ShowVisit()
    {
        var entry = Visit!.Entries.FirstOrDefault(e => e.EntryId == EntryId);
        if (entry is null || entry.Stands != OfStandingEntry)
            return;
        Entered = (await VisitsEntered.Entered(Who.Practice, Visit with { Entries = [entry] }, CancellationToken.None)).GetValueOrDefault(
            EntryId
        );
        if (Entered is VisitNoted noted)
            Words = await Notes.Load(Who.Practice, [noted.NoteId], CancellationToken.None) is [var note, ..] ? note.Words : null;
        Entry = entry;
        Fill();
    }
}
