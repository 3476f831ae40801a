using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Practices;

/// <summary>The practice's own history, where what it is and what it goes by is decided.</summary>
public sealed class PracticeWork(NotifyingCommands commands, PracticeQueries practices)
{
    /// <param name="decide">Pure; see <see cref="Commands.Execute{TState}"/>.</param>
    public async Task<Outcome> Decide(CommandContext context, Func<Practice?, Decided> decide, CancellationToken ct) =>
        await practices.Load(context.Tenant, ct) is { } practice
            ? await commands.Execute(context, practice.Id, decide, ct)
            : new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);

    /// <inheritdoc cref="Commands.ExecuteHolding{TState}"/>
    public async Task<Outcome> Decide(CommandContext context, Func<Held, Task<Func<Practice?, Decided>>> look, CancellationToken ct) =>
        await practices.Load(context.Tenant, ct) is { } practice
            ? await commands.ExecuteHolding(context, practice.Id, look, ct)
            : new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);
}
