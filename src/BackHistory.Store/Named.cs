using BackHistory.History;
using BackHistory.History.Naming;
using BackHistory.History.Practices;

namespace BackHistory.Store;

/// <summary>
/// Whether everybody and everything that a decision names is of this practice, asked in its own transaction and held until that is over:
/// whoever is erased at that moment is erased before it, and refused, or after. Foreign, unknown and erased look alike.
/// </summary>
internal static class Named
{
    private static readonly Refused TooMany = new(
        "too-many-names",
        $"One entry names up to {NamedIds.Most} people. Nothing was saved; name fewer."
    );

    /// <param name="earlier">The events of the stream so far; asked only where somebody is not there.</param>
    /// <returns>Why the decision cannot stand; null when it can.</returns>
    public static async Task<Refused?> Problem(Held held, Guid actor, Decided decided, Func<Task<IReadOnlyList<object>>> earlier)
    {
        if (decided.CarriesOver)
            return null;
        var named = decided.Events.Concat(decided.SideDocuments).SelectMany(NamedIds.In).Where(n => n.Id != actor).ToList();
        if (named.Count == 0)
            return null;
        if (named.Count > NamedIds.Most)
            return TooMany;
        var people = await held.There<Person>(Ids(NamedKind.Person), p => p.Id);
        var yards = await held.There<Yard>(Ids(NamedKind.Yard), y => y.Id, y => !y.Removed);
        var missing = named.Where(n => !(n.Kind is NamedKind.Person ? people : yards).Contains(n.Id)).ToList();
        if (missing.Count == 0)
            return null;
        var standing = NamedIds.Standing(decided.Events, await earlier());
        return missing.Find(n => !standing.Contains(n.Id)) is { } no ? NotThere(no) : null;

        Guid[] Ids(NamedKind kind) => [.. named.Where(n => n.Kind == kind).Select(n => n.Id).Distinct().Order()];
    }

    private static Refused NotThere(NamedId no) =>
        no.Kind is NamedKind.Person
            ? new Refused(
                "no-such-person",
                "There is no such person in this practice. Nothing was saved; add the person first.",
                Place: no.Place
            )
            : new Refused(
                "no-such-yard",
                "There is no such yard in this practice. Nothing was saved; add the yard first.",
                Place: no.Place
            );
}
