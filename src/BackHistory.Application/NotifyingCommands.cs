using BackHistory.History;
using BackHistory.Store;

namespace BackHistory.Application;

/// <summary>Commits what an act decided, and tells whoever follows the practice.</summary>
public sealed class NotifyingCommands(Commands commands, IChangeNotifier changes)
{
    /// <inheritdoc cref="Commands.Execute{TState}"/>
    public async Task<Outcome> Execute<TState>(CommandContext context, Guid streamId, Func<TState?, Decided> decide, CancellationToken ct)
        where TState : class, IFolded<TState> => Told(context, await commands.Execute(context, streamId, decide, ct));

    /// <inheritdoc cref="Commands.ExecuteHolding{TState}"/>
    public async Task<Outcome> ExecuteHolding<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, Decided>>> look,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Told(context, await commands.ExecuteHolding(context, streamId, look, ct));

    private Outcome Told(CommandContext context, Outcome outcome)
    {
        if (outcome.Refused is null)
            changes.SomethingHappened(context.Tenant);
        return outcome;
    }
}
