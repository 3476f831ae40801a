using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Practices;

/// <summary>The practice's own history, where what it is and what it goes by is decided.</summary>
public sealed class PracticeWork(Commands commands, PracticeQueries practices, IChangeNotifier changes)
{
    /// <param name="decide">Pure; see <see cref="Commands.Execute{TState}"/>.</param>
    public async Task<Outcome> Decide(CommandContext context, Func<Practice?, Decided> decide, CancellationToken ct)
    {
        if (await practices.Load(context.Tenant, ct) is not { } practice)
            return new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);
        var outcome = await commands.Execute(context, practice.Id, decide, ct);
        if (outcome.Refused is null)
            changes.SomethingHappened(context.Tenant);
        return outcome;
    }
}
