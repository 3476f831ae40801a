using BackHistory.History;
using BackHistory.Store.Practices;

namespace BackHistory.Application.People;

/// <summary>Somebody whom the practice deals with: a document, not an event, because it must be erasable.</summary>
public sealed class AddPerson(PracticeQueries practices) : IAct
{
    private static readonly Refused Erased = new(
        "person-erased",
        "This person was erased. Nothing was saved; to enter them anew, send the request with a new key.",
        RefusalKind.Conflict
    );

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid PersonId, PersonDetails Details);

    /// <returns>Why nobody was added; null when they were, now or before.</returns>
    public async Task<Refused?> Do(Input input, Caller by, CancellationToken ct)
    {
        var (practice, d) = (by.Context.Tenant, input.Details);
        if (d.Problem() is { } bad)
            return bad;
        // The same request once more, after they were erased, does not bring them back.
        if ((await practices.Load(practice, ct))?.Erased.Contains(input.PersonId) == true)
            return Erased;
        await practices.Add(practice, d.As(input.PersonId), ct);
        return null;
    }
}
