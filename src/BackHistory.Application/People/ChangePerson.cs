using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>A person's details change.</summary>
public sealed class ChangePerson(PracticeQueries practices) : IAct
{
    private static readonly Refused NoSuchPerson = new("no-such-person", "There is no such person in this practice.", RefusalKind.NotFound);

    public static Right Needs => Right.Enter;

    /// <param name="Given">What was said besides the name; the rest stays.</param>
    public sealed record Input(Guid PersonId, PersonDetails Details, PersonDetail Given);

    /// <returns>Why nothing was changed; null when it was.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return bad;
        var changed = await practices.Change(by.Context.Tenant, input.PersonId, p => Changed(p, input), ct);
        return changed is null ? NoSuchPerson : null;
    }

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
