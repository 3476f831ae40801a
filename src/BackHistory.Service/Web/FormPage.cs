using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace BackHistory.Service.Web;

/// <summary>A page with one form: with scripts and without, once for however often it is sent, and what was typed stays until it is
/// saved.</summary>
public abstract class FormPage : LoadedComponent
{
    protected const int MostPeople = 2000;

    private const string Unread = "Some fields cannot be taken; nothing was saved, and what you typed is still here.";

    [CascadingParameter]
    public Task<AuthenticationState> Auth { get; set; } = null!;

    [CascadingParameter]
    public HttpContext Http { get; set; } = null!;

    [Inject]
    public PracticeQueries Practices { get; set; } = null!;

    [Inject]
    public PageForms Forms { get; set; } = null!;

    [Inject]
    public NavigationManager Navigation { get; set; } = null!;

    [Inject]
    public TimeProvider Time { get; set; } = null!;

    protected Practice Practice { get; private set; } = null!;

    protected SignedIn Who { get; private set; } = null!;

    /// <summary>What is said where nothing was saved.</summary>
    protected string? Bad { get; set; }

    /// <summary>Why a field cannot be taken, by its id.</summary>
    protected IReadOnlyDictionary<string, string> Wrong { get; private set; } = new Dictionary<string, string>(StringComparer.Ordinal);

    protected bool MayEnter => Who.Role >= PracticeRole.Apprentice;

    protected bool MayFit => Who.Role >= PracticeRole.Fitter;

    protected bool MayManage => Who.Role >= PracticeRole.Manager;

    /// <summary>The practice's day.</summary>
    protected DateOnly Today => PracticeClock.Today(Practice, Time);

    /// <summary>The same as a field for a day takes it.</summary>
    protected string LastDay => Today.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The version of what the form changes, as it stands now; null where it adds.</summary>
    protected virtual long? Standing => null;

    /// <summary>Reads what the page shows, and fills a form that was not sent.</summary>
    protected abstract Task Read();

    protected sealed override async Task Load()
    {
        Who = SignedIn.From((await Auth).User);
        if (await Practices.Load(Who.Practice, CancellationToken.None) is not { } practice)
            return;
        Practice = practice;
        await Read();
    }

    protected string NewKey() => Forms.NewKey();

    protected string? At(string field) => Wrong.GetValueOrDefault(field);

    /// <summary>Whether every field could be read; otherwise the page says which could not.</summary>
    protected bool Taken(FieldReader fields)
    {
        if (fields.AllRead)
            return true;
        Refuse(fields.Wrong);
        return false;
    }

    protected void Refuse(IReadOnlyDictionary<string, string> wrong) => (Wrong, Bad) = (wrong, Unread);

    /// <summary>Saves and goes on, or says why not; what was typed stays.</summary>
    /// <param name="then">Where the page that shows what was saved stands.</param>
    /// <param name="fieldOf">The id of the field that a refusal is about, where it is not the place that the refusal names.</param>
    protected async Task Give(TypedForm form, Func<Caller, Task<Outcome>> act, string then, Func<string, string>? fieldOf = null)
    {
        var (_, refused) = await Forms.Give(Http, form.Key, form, form.Version, act);
        if (refused is null)
        {
            Navigation.NavigateTo(then);
            return;
        }

        if (refused.Kind == RefusalKind.Stale)
        {
            // Whoever presses once more has been told, and means it.
            form.Version = Standing;
            Bad =
                "Somebody else changed this in the meantime. Nothing was saved, and what you typed is still here: look at what stands now, "
                + "then press again.";
            return;
        }

        Bad = $"{refused.Message} What you typed is still here.";
        if (refused.Place is { } place)
            Wrong = new Dictionary<string, string>(StringComparer.Ordinal) { [fieldOf?.Invoke(place) ?? place] = refused.Message };
    }
}
