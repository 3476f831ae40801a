using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Saddles;
using BackHistory.Service.Web;
using BackHistory.Store.Horses;
using BackHistory.Store.Saddles;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Saddles;

/// <summary>A page with one form about one saddle: what it shows and what it sends are of the same version.</summary>
public abstract class SaddleFormPage : FormPage
{
    private Dictionary<Guid, string> names = [];

    [Parameter]
    public Guid SaddleId { get; set; }

    [Inject]
    public SaddleQueries Saddles { get; set; } = null!;

    [Inject]
    public HorseQueries Horses { get; set; } = null!;

    [Inject]
    public BackHistory.Store.Find Finder { get; set; } = null!;

    /// <summary>Null where there is none in this practice, or it was registered by mistake.</summary>
    protected internal Saddle? Saddle { get; private set; }

    /// <summary>The horses to choose from; others are found by their names.</summary>
    protected internal IReadOnlyList<(Guid Id, string Name)> Choices { get; private set; } = [];

    protected override long? Standing => Saddle?.Version;

    /// <summary>A form that was sent is there to take it, also when what it asks for was done already: the second of two taps is
    /// answered like the first.</summary>
    protected bool Sent => HttpMethods.IsPost(Http.Request.Method);

    /// <summary>Where its page stands.</summary>
    protected string Place => $"/saddles/{SaddleId}";

    /// <summary>Reads the rest of what the page shows, and fills a form that was not sent.</summary>
    protected abstract Task Show();

    protected sealed override async Task Read()
    {
        if (await Saddles.Load(Who.Practice, SaddleId, CancellationToken.None) is not { } saddle || (saddle.Withdrawn && !Sent))
            return;
        Saddle = saddle;
        names = (await Horses.Profiles(Who.Practice, saddle.EverOn(), CancellationToken.None)).ToDictionary(h => h.Id, h => h.Name);
        await Show();
    }

    /// <summary>A horse of which something of this saddle was recorded.</summary>
    protected string Name(Guid horse) => names.GetValueOrDefault(horse, "a horse");

    protected internal string Day(DateTimeOffset at) => Formatter.Metric.Day(PracticeClock.Day(Practice, at));

    protected internal GaugeTable? Gauge =>
        Saddle!.Gauge is { } key && Practice.Gauges.TryGetValue(key, out var table) && !table.Retired ? table : null;

    /// <summary>Offers the horse that the address names, and those that the saddle was on.</summary>
    /// <param name="but">The horse that it leaves.</param>
    protected async Task Offer(Guid? asked, Guid? but = null)
    {
        var ids = new[] { asked }.OfType<Guid>().Concat(Saddle!.EverOn()).Distinct();
        Choices =
        [
            .. (await Horses.Profiles(Who.Practice, ids, CancellationToken.None))
                .Where(h => !h.Gone && h.Id != but)
                .OrderByDescending(h => h.Id == asked)
                .ThenByDescending(h => Saddle.IsOn(h.Id))
                .ThenBy(h => h.Name, StringComparer.CurrentCulture)
                .Select(h => (h.Id, h.Name)),
        ];
    }

    /// <summary>The horse that was chosen, or the one that is called as was typed; of several one is to be chosen.</summary>
    protected async Task<Guid?> HorseOf(FieldReader fields, HorseChoiceForm form)
    {
        if (FieldReader.Text(form.HorseName) is not { } typed)
        {
            if (string.IsNullOrEmpty(form.Horse))
                fields.Needed("horse", null, Choices.Count > 0 ? "Choose the horse, or type its name." : "Say which horse.");
            return fields.Id("horse", form.Horse);
        }

        var found = await Finder.Horses(Who.Practice, typed, CancellationToken.None);
        var same = found.Where(f => string.Equals(f.Title, typed, StringComparison.OrdinalIgnoreCase)).ToList();
        if (same.Count == 1 || found.Count == 1)
            return (same.Count == 1 ? same : found)[0].Id;
        if (found.Count == 0)
        {
            fields.Needed("horse-name", null, $"No horse here is called “{typed}”.");
            return null;
        }

        Choices = [.. found.Select(f => (f.Id, f.More is { } more ? $"{f.Title} · {more}" : f.Title))];
        (form.Horse, form.HorseName) = (null, null);
        fields.Needed("horse", null, $"“{typed}” can be several horses: choose one of these.");
        return null;
    }

    /// <param name="saved">What the page to which it leads says was done.</param>
    /// <param name="page">That page, under the saddle's; the saddle's own where nothing is said.</param>
    protected Task Give(TypedForm form, string saved, Func<Caller, Task<Outcome>> act, string page = "", Guid? horse = null) =>
        Give(form, act, $"{Place}{page}?saved={saved}{(horse is { } id ? $"&horse={id}" : "")}", FieldOf);

    /// <summary>The id of the field that a refusal is about.</summary>
    protected virtual string FieldOf(string place) =>
        place switch
        {
            "horseId" => "horse",
            "flocking.material" => "material",
            "takenAt" or "at" or "from" => "day",
            _ => place,
        };
}
