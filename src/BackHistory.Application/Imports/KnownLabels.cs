using System.Globalization;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>How a person tells whoever and whatever is known by name from others of that name.</summary>
internal sealed class KnownLabels(KnownNames names)
{
    public Dictionary<(NamedThing, Guid), string> All =>
        ((NamedThing[])[NamedThing.Person, NamedThing.Yard, NamedThing.Horse, NamedThing.Saddle])
            .SelectMany(thing => Of(thing).Select(k => (Key: (thing, k.Id), k.Label)))
            .ToDictionary(k => k.Key, k => k.Label);

    public IReadOnlyCollection<(Guid Id, string Name, string Label)> Of(NamedThing thing) =>
        thing switch
        {
            NamedThing.Person => [.. names.People.Select(p => (p.Id, p.Name, With(p.Name, p.Email)))],
            NamedThing.Yard => [.. names.Yards.Select(y => (y.Id, y.Name, With(y.Name, y.Town)))],
            NamedThing.Horse =>
            [
                .. names.Horses.Select(h =>
                    (
                        h.Id,
                        h.Name,
                        With(h.Name, h.Foaled is { } born ? string.Create(CultureInfo.InvariantCulture, $"born {born.Year}") : null)
                    )
                ),
            ],
            _ => [.. names.Saddles.Select(s => (s.Id, s.Label, s.Label))],
        };

    private static string With(string name, string? more) => string.IsNullOrWhiteSpace(more) ? name : $"{name}, {more}";
}
