using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;

namespace BackHistory.Application.People;

/// <summary>The details of a place where horses stand change.</summary>
public sealed class ChangeYard(Commands commands) : IAct
{
    private static readonly Refused NoSuchYard = new("no-such-yard", "There is no such yard in this practice.", RefusalKind.NotFound);

    public static Right Needs => Right.Enter;

    /// <param name="Town">Whether the town was said too; the name is always.</param>
    /// <param name="Address">Whether the address was.</param>
    /// <param name="Place">Whether latitude and longitude were.</param>
    public sealed record Input(Guid YardId, YardDetails Details, bool Town, bool Address = false, bool Place = false);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.Details.Problem() is { } bad)
            return new Outcome(input.YardId, 0, 0, bad);
        return await commands.ExecuteOnDocument<Yard>(
            by.Context,
            input.YardId,
            _ => Task.FromResult<Func<Yard?, DecidedDocument<Yard>>>(yard => Decide(yard, input, by)),
            ct
        );
    }

    private static DecidedDocument<Yard> Decide(Yard? yard, Input input, Caller by)
    {
        if (yard is null)
            return new DecidedDocument<Yard>(NoSuchYard);
        var said = input.Details.As(yard.Id);
        var changed = yard with
        {
            Name = said.Name,
            Town = input.Town ? said.Town : yard.Town,
            Address = input.Address ? said.Address : yard.Address,
            Latitude = input.Place ? said.Latitude : yard.Latitude,
            Longitude = input.Place ? said.Longitude : yard.Longitude,
        };
        return changed == yard
            ? new DecidedDocument<Yard>(yard, null)
            : new DecidedDocument<Yard>(changed, by.Note(AuditWords.YardChanged, yard.Id, ChangedDetails.Between(yard, changed, Details)));
    }

    private static readonly (string Name, Func<Yard, object?> Value)[] Details =
    [
        ("name", y => y.Name),
        ("town", y => y.Town),
        ("address", y => y.Address),
        ("place", y => (y.Latitude, y.Longitude)),
    ];
}
