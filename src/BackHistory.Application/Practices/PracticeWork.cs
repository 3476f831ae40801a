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

    /// <summary>The same where the version that was seen guards one thing of the practice: it is stale once that thing changed, and not
    /// because something else did, as when the rules learned overnight.</summary>
    /// <param name="isOfIt">Whether an event changed what is decided about.</param>
    public async Task<Outcome> Decide(
        CommandContext context,
        Func<object, bool> isOfIt,
        Func<Practice?, Decided> decide,
        CancellationToken ct
    )
    {
        if (await practices.Load(context.Tenant, ct) is not { } practice)
            return new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);
        if (context.ExpectedVersion is not { } seen)
            return await commands.Execute(context, practice.Id, decide, ct);
        return await commands.ExecuteOnHistory<Practice>(
            context with
            {
                ExpectedVersion = null,
            },
            practice.Id,
            // A version that the practice has not reached yet was never seen by anybody.
            (state, history) => seen > history.Count || history.Skip((int)seen).Any(isOfIt) ? CommandRefusals.Stale : decide(state),
            ct
        );
    }

    /// <inheritdoc cref="Commands.ExecuteHolding{TState}"/>
    public async Task<Outcome> Decide(CommandContext context, Func<Held, Task<Func<Practice?, Decided>>> look, CancellationToken ct) =>
        await practices.Load(context.Tenant, ct) is { } practice
            ? await commands.ExecuteHolding(context, practice.Id, look, ct)
            : new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);
}
