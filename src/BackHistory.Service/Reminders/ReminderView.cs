using BackHistory.History;
using BackHistory.History.Reminders;
using BackHistory.Store.Reminders.Lists;
using Microsoft.AspNetCore.WebUtilities;

namespace BackHistory.Service.Reminders;

/// <summary>What the address of the reminders' page asks for, and the addresses of the same list looked at otherwise.</summary>
public sealed record ReminderView(
    ReminderState State,
    ReminderOrder Order,
    string? Text,
    Guid? Yard,
    ReminderFamily? About,
    bool? Answered,
    Guid? Fitter
)
{
    private static readonly string[] Names = ["state", "q", "yard", "about", "answered", "fitter", "sort", "after"];

    /// <summary>Where this page of the list begins; null for its beginning.</summary>
    public string? After { get; init; }

    public bool Narrowed => Yard is not null || About is not null || Answered is not null || Fitter is not null;

    /// <summary>In another order than the usual one of the state.</summary>
    public bool Sorted => SortWord is not null;

    public ReminderFilter Filter =>
        new(
            Text,
            Yard,
            About is { } family ? [.. Enum.GetValues<ReminderRule>().Where(r => Families.FamilyOf(r) == family)] : null,
            Answered,
            Fitter
        );

    /// <summary>Empty fields of the form count as absent; a word that is none of the offered ones is refused.</summary>
    public static (ReminderView View, Refused? Refused) Read(
        string? state,
        string? q,
        string? yard,
        string? about,
        string? answered,
        string? fitter,
        string? sort
    )
    {
        var (states, unknown) = RemindersApi.States(state);
        var shown = states is [var one] ? one : ReminderState.Open;
        var order = shown == ReminderState.Booked ? ReminderOrder.Day : ReminderOrder.Answered;
        var bad = unknown;
        if (!string.IsNullOrEmpty(sort) && !Word(sort, out order))
            bad ??= NotOffered("sort");
        ReminderFamily? family = null;
        if (!string.IsNullOrEmpty(about))
        {
            if (Word<ReminderFamily>(about, out var known))
                family = known;
            else
                bad ??= NotOffered("about");
        }

        bool? heard = answered switch
        {
            "yes" => true,
            "no" => false,
            _ => null,
        };
        return (new ReminderView(shown, order, string.IsNullOrWhiteSpace(q) ? null : q.Trim(), Id(yard), family, heard, Id(fitter)), bad);
    }

    public static string WordOf<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    /// <summary>This list from its beginning, in another state.</summary>
    public string At(ReminderState state) => Address(RemindersApi.WordOf(state), null, state == State ? SortWord : null);

    public string Page(string? after, string? ticked = null) =>
        Address(RemindersApi.WordOf(State), after, SortWord) + (ticked is null ? "" : $"&ticked={ticked}");

    /// <summary>What forms carry along so that their answer leads back to the same list.</summary>
    public string InForms => Address(RemindersApi.WordOf(State), After, SortWord)["/reminders?".Length..];

    /// <summary>The list that a form named: only what this page knows of it, and never another address.</summary>
    public static string Back(string? inForm) =>
        QueryHelpers.AddQueryString(
            "/reminders",
            QueryHelpers
                .ParseQuery(inForm ?? "")
                .Where(p => Names.Contains(p.Key, StringComparer.Ordinal))
                .Select(p => new KeyValuePair<string, string?>(p.Key, p.Value.ToString()))
                .DefaultIfEmpty(new("state", "open"))
        );

    private string? SortWord =>
        Order == (State == ReminderState.Booked ? ReminderOrder.Day : ReminderOrder.Answered) ? null : WordOf(Order);

    private string Address(string state, string? after, string? sort)
    {
        var parts = new Dictionary<string, string?>(StringComparer.Ordinal)
        {
            ["state"] = state,
            ["q"] = Text,
            ["yard"] = Yard?.ToString(),
            ["about"] = About is { } family ? WordOf(family) : null,
            ["answered"] = Answered is { } heard ? (heard ? "yes" : "no") : null,
            ["fitter"] = Fitter?.ToString(),
            ["sort"] = sort,
            ["after"] = after,
        };
        return QueryHelpers.AddQueryString("/reminders", parts.Where(p => p.Value is not null));
    }

    private static Guid? Id(string? text) => Guid.TryParse(text, out var id) ? id : null;

    private static bool Word<T>(string text, out T value)
        where T : struct, Enum => Enum.TryParse(text, ignoreCase: true, out value) && WordOf(value) == text;

    private static Refused NotOffered(string place) =>
        new("not-offered", $"The list cannot be shown so: '{place}' is none of what is offered.", Place: place);
}
