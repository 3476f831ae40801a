using BackHistory.Application;
using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Service.Web;
using BackHistory.Store.Reminders.Lists;
using Microsoft.AspNetCore.Components;

namespace BackHistory.Service.Reminders;

/// <summary>A page that does one thing with several reminders: each by itself, so that one that cannot be done does not hold up the
/// others, and each is told.</summary>
public abstract class ManyPage : FormPage
{
    /// <summary>As many as a person can look through before pressing.</summary>
    protected const int Most = 100;

    [SupplyParameterFromQuery(Name = "of")]
    public Guid[]? Of { get; set; }

    [SupplyParameterFromQuery(Name = "list")]
    public string? ReturnTo { get; set; }

    [Inject]
    public ReminderList List { get; set; } = null!;

    protected IReadOnlyList<ReminderRow> Rows { get; private set; } = [];

    /// <summary>Null before anything was done.</summary>
    protected IReadOnlyList<ManyResult>? Results { get; private set; }

    /// <summary>Ticked beyond what is done at once, in the order in which they were ticked.</summary>
    protected IReadOnlyList<Guid> LeftOut { get; private set; } = [];

    /// <summary>The same page, for those.</summary>
    protected string GoOn =>
        $"{new Uri(Navigation.Uri).AbsolutePath}?{string.Join('&', LeftOut.Select(id => $"of={id}"))}"
        + (ReturnTo is null ? "" : $"&list={Uri.EscapeDataString(ReturnTo)}");

    protected string Back => ReminderView.Back(ReturnTo);

    protected abstract ManyForm? Sent { get; set; }

    protected override async Task Read()
    {
        var all = (Of ?? []).Distinct().ToList();
        LeftOut = [.. all.Skip(Most)];
        var ticked = await List.Some(Who.Practice, [.. all.Take(Most)], CancellationToken.None);
        // What is over is not offered, and nothing is done with what was not shown.
        Rows = Sent is null
            ? [.. ticked.Where(r => !r.Reminder.Over)]
            : [.. ticked.Where(r => Shown(Sent).ContainsKey($"{r.Reminder.Id:N}"))];
        Sent ??= new ManyForm
        {
            Key = NewKey(),
            Shown = string.Join(' ', Rows.Select(r => $"{r.Reminder.Id:N}={r.Reminder.StandingTag()}")),
        };
    }

    /// <summary>What is said where nothing can be done.</summary>
    protected (string Title, string Text) None =>
        Of is { Length: > 0 }
            ? ("These are done or closed already", "Nothing is left to do about them, and nothing was changed.")
            : ("Nothing was ticked", "Tick the reminders in the list first: the box stands before each horse.");

    /// <summary>How the page showed each reminder.</summary>
    private static Dictionary<string, string> Shown(ManyForm form) =>
        (form.Shown ?? "")
            .Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(one => one.Split('=', 2))
            .Where(one => one.Length == 2)
            .GroupBy(one => one[0], StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.First()[1], StringComparer.Ordinal);

    protected static string HorseOf(ReminderRow row) => row.Horse?.Name ?? "a horse";

    protected async Task Each(Func<Reminder, Caller, Task<Outcome>> act)
    {
        var form = Sent!;
        var shown = Shown(form);
        var results = new List<ManyResult>();
        foreach (var row in Rows)
        {
            var id = row.Reminder.Id;
            var (_, refused) = await Forms.Give(
                Http,
                $"{form.Key}:{id:N}",
                form,
                null,
                by => act(row.Reminder, by.Seeing(shown.GetValueOrDefault($"{id:N}")))
            );
            results.Add(new ManyResult(id, HorseOf(row), refused?.Message));
        }

        Results = results;
    }
}
