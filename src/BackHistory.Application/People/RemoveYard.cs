using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Audit;

namespace BackHistory.Application.People;

/// <summary>A yard at which nobody stands is not offered any more, or is offered again. What names it goes on naming it.</summary>
public sealed class RemoveYard(Commands commands) : IAct
{
    public static Right Needs => Right.Fit;

    private static readonly Refused NoSuchYard = new("no-such-yard", "There is no such yard in this practice.", RefusalKind.NotFound);

    /// <param name="Back">Whether it is brought back.</param>
    public sealed record Input(Guid YardId, bool Back);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        commands.ExecuteOnDocument<Yard>(
            by.Context,
            input.YardId,
            async held =>
            {
                var standing = input.Back ? 0 : await held.HorsesAt(input.YardId);
                return yard => Decide(yard, input, standing, by);
            },
            ct
        );

    private static DecidedDocument<Yard> Decide(Yard? yard, Input input, int standing, Caller by)
    {
        if (yard is null)
            return new DecidedDocument<Yard>(NoSuchYard);
        if (standing > 0)
            return new DecidedDocument<Yard>(
                new Refused(
                    "yard-in-use",
                    $"{(standing == 1 ? "A horse stands" : $"{standing} horses stand")} there. It was not removed: move them first, each "
                        + "from its own page.",
                    RefusalKind.Conflict
                )
            );
        if (yard.Removed != input.Back)
            return new DecidedDocument<Yard>(yard, null);
        var word = input.Back ? AuditWords.YardBroughtBack : AuditWords.YardRemoved;
        return new DecidedDocument<Yard>(yard with { Removed = !input.Back }, by.Note(word, yard.Id, []));
    }
}
