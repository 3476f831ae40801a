using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>What an owner said when they were asked whether their horses may be measured, photographed or shown: given, or
/// withdrawn.</summary>
public sealed class NoteConsent(Commands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Enter;

    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    private static readonly Refused TooOften = new(
        "too-many-consents",
        $"{Consent.MostOfAPerson} answers of one person are kept at most. Nothing was saved.",
        RefusalKind.Conflict
    );

    /// <param name="On">The day on which they said so; the practice's today where nothing is said.</param>
    public sealed record Input(Guid PersonId, ConsentKind Kind, bool Given, DateOnly? On, string Words);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var c = by.Context;
        if (await practices.Load(c.Tenant, ct) is not { } practice)
            return new Outcome(input.PersonId, 0, 0, PracticeRefusals.NoSuchPractice);
        var today = PracticeClock.Day(practice, c.Now);
        var said = new Consent(input.Kind, input.Given, input.On ?? today, input.Words.Trim(), c.Now, c.Actor);
        if (said.Problem(today) is { } bad)
            return new Outcome(input.PersonId, 0, 0, bad);
        return await commands.ExecuteOnDocument<Person>(
            c,
            input.PersonId,
            _ => Task.FromResult<Func<Person?, DecidedDocument<Person>>>(person => Decide(person, said, by)),
            ct
        );
    }

    private static DecidedDocument<Person> Decide(Person? person, Consent said, Caller by) =>
        person is null ? new DecidedDocument<Person>(NoSuchPerson)
        : person.Consents.Count >= Consent.MostOfAPerson ? new DecidedDocument<Person>(TooOften)
        : new DecidedDocument<Person>(
            person with
            {
                Consents = [.. person.Consents, said],
            },
            by.Note(AuditWords.PersonChanged, person.Id, ["consent"])
        );
}
