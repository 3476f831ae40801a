using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;

namespace BackHistory.Application.People;

/// <summary>A person's details change.</summary>
public sealed class ChangePerson(Commands commands) : IAct
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    public static Right Needs => Right.Enter;

    /// <param name="Given">What was said besides the name; the rest stays.</param>
    public sealed record Input(Guid PersonId, PersonDetails Details, PersonDetail Given);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return new Outcome(input.PersonId, 0, 0, bad);
        return await commands.ExecuteOnDocument<Person>(
            by.Context,
            input.PersonId,
            _ => Task.FromResult<Func<Person?, DecidedDocument<Person>>>(person => Decide(person, input, by)),
            ct
        );
    }

    private static DecidedDocument<Person> Decide(Person? person, Input input, Caller by)
    {
        if (person is null)
            return new DecidedDocument<Person>(NoSuchPerson);
        var changed = Changed(person, input);
        return changed == person
            ? new DecidedDocument<Person>(person, null)
            : new DecidedDocument<Person>(
                changed,
                by.Note(AuditWords.PersonChanged, person.Id, ChangedDetails.Between(person, changed, Details))
            );
    }

    private static readonly (string Name, Func<Person, object?> Value)[] Details =
    [
        ("name", p => p.Name),
        ("email", p => p.Email),
        ("phone", p => p.Phone),
        ("address", p => p.Address),
        ("role", p => p.Role),
        ("language", p => p.Language),
        ("time zone", p => p.TimeZone),
    ];

    /// <summary>What was said, and nothing else: which letters somebody stopped, for one, is theirs to say and stands in no form.</summary>
    private static Person Changed(Person p, Input input)
    {
        var (d, given) = (input.Details, input.Given);
        return p with
        {
            Name = d.Name.Trim(),
            Email = given.HasFlag(PersonDetail.Email) ? d.Email?.Trim() : p.Email,
            Phone = given.HasFlag(PersonDetail.Phone) ? d.Phone : p.Phone,
            Address = given.HasFlag(PersonDetail.Address) ? d.Address : p.Address,
            Role = given.HasFlag(PersonDetail.Role) ? d.Role : p.Role,
            Language = given.HasFlag(PersonDetail.Language) ? d.Language ?? "en" : p.Language,
            TimeZone = given.HasFlag(PersonDetail.TimeZone) ? d.TimeZone : p.TimeZone,
        };
    }
}
