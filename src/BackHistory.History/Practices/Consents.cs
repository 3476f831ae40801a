namespace BackHistory.History.Practices;

/// <summary>What stands of what a person said, and what follows. Whoever was never asked has refused nothing: what a practice must ask for
/// beforehand, its local rules say.</summary>
public static class Consents
{
    /// <summary>What they said last, by the day on which they said it; null where they were not asked.</summary>
    public static Consent? Last(this Person person, ConsentKind kind) =>
        person.Consents.Where(c => c.Kind == kind).OrderBy(c => c.On).ThenBy(c => c.NotedAt).LastOrDefault();

    /// <summary>Why a photograph is not kept; null where nobody refused it.</summary>
    /// <param name="people">The owner, and whoever can be seen in it.</param>
    public static Refused? OfPhotograph(IEnumerable<Person> people) =>
        OfAny(people, ConsentKind.Photographs, "photographs", "It was not saved");

    /// <summary>Why a horse is not shown to others than its owner; null where the owner did not refuse it.</summary>
    public static Refused? OfSharing(Person? owner) =>
        OfAny(owner is null ? [] : [owner], ConsentKind.Sharing, "sharing", "Nothing was shared");

    private static Refused? OfAny(IEnumerable<Person> people, ConsentKind kind, string what, string so) =>
        people.Select(p => (Person: p, Last: p.Last(kind))).FirstOrDefault(p => p.Last is { Given: false })
            is { Person: { } person, Last: { } no }
            ? new Refused(
                "no-consent",
                FormattableString.Invariant(
                    $"{person.Name} said no to {what} on {no.On:d MMM yyyy}. {so}; ask them, and note what they say "
                ) + "on their page.",
                RefusalKind.Conflict
            )
            : null;
}
