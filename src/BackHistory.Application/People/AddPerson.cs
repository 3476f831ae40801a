using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>Somebody whom the practice deals with: a document, not an event, because it must be erasable.</summary>
public sealed class AddPerson(Commands commands, PracticeQueries practices) : IAct
{
    private static readonly Refused Erased = new(
        "person-erased",
        "This person was erased. Nothing was saved; to enter them anew, send the request with a new key.",
        RefusalKind.Conflict
    );

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid PersonId, PersonDetails Details);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return new Outcome(input.PersonId, 0, 0, bad);
        var practice = await practices.Load(by.Context.Tenant, ct);
        // The same request once more, after they were erased, does not bring them back, nor is it answered as if they were there.
        if (practice?.Erased.Contains(input.PersonId) == true)
            return new Outcome(input.PersonId, 0, 0, Erased);
        return await commands.ExecuteOnDocument<Person>(
            by.Context with
            {
                ExpectedVersion = null,
            },
            input.PersonId,
            async held =>
            {
                var erased = (await held.Stream<Practice>(practice?.Id ?? Guid.Empty))?.Erased.Contains(input.PersonId) == true;
                // Of an earlier release, which kept no receipts of people: they are there, and stay as they are.
                return person =>
                    erased ? new DecidedDocument<Person>(Erased)
                    : person is not null ? new DecidedDocument<Person>(person, null)
                    : Made(input, by);
            },
            ct
        );
    }

    private static DecidedDocument<Person> Made(Input input, Caller by)
    {
        var person = input.Details.As(input.PersonId);
        return new DecidedDocument<Person>(person, by.Note(AuditWords.PersonAdded, person.Id, []));
    }
}
