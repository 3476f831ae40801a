using BackHistory.History.Practices;
using BackHistory.Store.Practices;

namespace BackHistory.Service.Visits;

/// <summary>Who may have held a horse: its owner, grooms and fitters.</summary>
internal static class HoldersOf
{
    public static async Task<IReadOnlyList<Person>> Horse(PracticeQueries practices, string practice, Guid? ownerId, CancellationToken ct)
    {
        var owner = ownerId is { } id ? await practices.Person(practice, id, ct) : null;
        Person[] holders =
        [
            .. new[] { owner }.OfType<Person>(),
            .. await practices.InRole(practice, PersonRole.Groom, ct),
            .. await practices.InRole(practice, PersonRole.Fitter, ct),
        ];
        return [.. holders.DistinctBy(p => p.Id)];
    }
}
