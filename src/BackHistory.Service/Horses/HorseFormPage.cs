using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Horses;

/// <summary>A page with one form about one horse: what it shows and what it sends are of the same version.</summary>
public abstract class HorseFormPage : FormPage
{
    [Parameter]
    public Guid HorseId { get; set; }

    [Inject]
    public HorseQueries Horses { get; set; } = null!;

    [Inject]
    public BackHistory.Store.Find Finder { get; set; } = null!;

    /// <summary>Null where there is none in this practice, or none any more.</summary>
    protected Horse? Horse { get; private set; }

    protected override long? Standing => Horse?.Version;

    /// <summary>Where its page stands.</summary>
    protected string Place => $"/horses/{HorseId}";

    /// <summary>Other horses as the search finds them by a part of their name, by name.</summary>
    protected async Task<IReadOnlyList<HorseProfile>> Called(string text)
    {
        var found = await Finder.Horses(Who.Practice, text, CancellationToken.None);
        var profiles = await Horses.Profiles(Who.Practice, found.Select(f => f.Id), CancellationToken.None);
        return [.. profiles.Where(h => h.Id != HorseId).OrderBy(h => h.Name, StringComparer.CurrentCultureIgnoreCase)];
    }

    /// <summary>Whether the page has anything to say of a horse that was not merged away.</summary>
    protected virtual bool IsAbout(Horse horse) => !horse.Withdrawn;

    /// <summary>Reads the rest of what the page shows, and fills a form that was not sent.</summary>
    protected abstract Task Show();

    protected sealed override async Task Read()
    {
        var horse = await Horses.Load(Who.Practice, HorseId, CancellationToken.None);
        if (horse is null || horse.MergedInto is not null || !IsAbout(horse))
            return;
        Horse = horse;
        await Show();
    }

    /// <param name="saved">What the page to which it leads says was done.</param>
    /// <param name="page">That page, under the horse's; the horse's own where nothing is said.</param>
    protected Task Give(TypedForm form, string saved, Func<Caller, Task<Outcome>> act, string page = "") =>
        Give(form, act, $"{Place}{page}?saved={saved}", FieldOf);

    private static string FieldOf(string place) =>
        place switch
        {
            "foaled" => "born",
            "heightMm" => "height",
            "hoursPerWeek" => "hours",
            "intoId" => "into",
            _ => place,
        };
}
