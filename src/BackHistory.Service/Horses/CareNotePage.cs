using BackHistory.History.Notes;
using BackHistory.History.Profiles;
using BackHistory.Store.Notes;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Horses;

/// <summary>A page with one form about one note of a horse's care.</summary>
public abstract class CareNotePage : HorseFormPage
{
    [Parameter]
    public Guid NoteId { get; set; }

    [Inject]
    public NoteQueries Notes { get; set; } = null!;

    /// <summary>Null where the horse has none of this id, or it was withdrawn.</summary>
    protected CareSpan? Span { get; private set; }

    /// <summary>Null where there were none, or they were erased.</summary>
    protected Note? Said { get; private set; }

    /// <summary>Fills a form that was not sent.</summary>
    protected abstract void Fill();

    protected sealed override async Task Show()
    {
        Span = (await Horses.Profile(Who.Practice, HorseId, CancellationToken.None))?.Care.FirstOrDefault(c => c.NoteId == NoteId);
        if (Span is null)
            return;
        Said = await Notes.Load(Who.Practice, [NoteId], CancellationToken.None) is [var one] ? one : null;
        Fill();
    }
}
