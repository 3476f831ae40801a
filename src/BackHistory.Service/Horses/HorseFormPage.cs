using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace BackHistory.Service.Horses;

/// <summary>A page with one form about one horse: what it shows and what it sends are of the same version.</summary>
public abstract class HorseFormPage : LoadedComponent
{
    [Parameter]
    public Guid HorseId { get; set; }

    [CascadingParameter]
    public Task<AuthenticationState> Auth { get; set; } = null!;

    [CascadingParameter]
    public HttpContext Http { get; set; } = null!;

    [Inject]
    public HorseQueries Horses { get; set; } = null!;

    [Inject]
    public PracticeQueries Practices { get; set; } = null!;

    [Inject]
    public PageForms Forms { get; set; } = null!;

    [Inject]
    public NavigationManager Navigation { get; set; } = null!;

    /// <summary>Null where there is none in this practice.</summary>
    protected Horse? Horse { get; private set; }

    protected Practice? Practice { get; private set; }

    protected SignedIn Who { get; private set; } = null!;

    /// <summary>What is said where nothing was saved.</summary>
    protected string? Bad { get; set; }

    /// <summary>Reads the rest of what the page shows, and fills a form that was not sent.</summary>
    protected abstract Task Show();

    protected sealed override async Task Load()
    {
        Who = SignedIn.From((await Auth).User);
        Practice = await Practices.Load(Who.Practice, CancellationToken.None);
        var horse = await Horses.Load(Who.Practice, HorseId, CancellationToken.None);
        if (horse is null || Practice is null || horse.Withdrawn || horse.MergedInto is not null)
            return;
        Horse = horse;
        await Show();
    }

    protected string NewKey() => Forms.NewKey();

    /// <summary>Saves and goes back to the horse, or says why not; what was typed stays.</summary>
    protected async Task Give(string key, object typed, long? version, Func<Caller, Task<Outcome>> act)
    {
        var (_, refused) = await Forms.Give(Http, key, typed, version, act);
        if (refused is null)
            Navigation.NavigateTo($"/horses/{HorseId}");
        else
            Bad = $"{refused.Message} What you typed is still here.";
    }
}
