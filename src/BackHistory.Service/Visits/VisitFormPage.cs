using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Horses;
using BackHistory.Service.Web;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Visits;

/// <summary>A page with one form about one visit: what it shows and what it sends are of the same version of the horse.</summary>
public abstract class VisitFormPage : HorseFormPage
{
    [Parameter]
    public Guid VisitId { get; set; }

    /// <summary>Null where the horse has none that this page is about.</summary>
    protected VisitRecord? Visit { get; private set; }

    /// <summary>Where the page of the visit stands.</summary>
    protected string VisitPlace => $"{Place}/visits/{VisitId}";

    /// <summary>The visit's day and time where the practice is.</summary>
    protected DateTimeOffset TakenAt => PracticeClock.Local(Practice, Visit!.TakenAt);

    /// <summary>Whether the page is about visits that stand; otherwise about those that do not.</summary>
    protected virtual bool OfStanding => true;

    /// <summary>Reads the rest of what the page shows, and fills a form that was not sent.</summary>
    protected abstract Task ShowVisit();

    protected sealed override async Task Show()
    {
        var visit = await Horses.Visit(Who.Practice, HorseId, VisitId, CancellationToken.None);
        if (visit is null || visit.Withdrawn == OfStanding)
            return;
        Visit = visit;
        await ShowVisit();
    }

    /// <param name="saved">What the visit's page says was done.</param>
    protected Task GiveOfVisit(TypedForm form, string saved, Func<Caller, Task<Outcome>> act, Func<string, string>? fieldOf = null) =>
        Give(form, act, $"{VisitPlace}?saved={saved}", fieldOf);
}
