using BackHistory.History;
using BackHistory.Store;

namespace BackHistory.Application;

/// <summary>Commits what an act decided, where everybody whom it names is of the practice, and tells whoever follows it.</summary>
public sealed class NotifyingCommands(Commands commands, IChangeNotifier changes)
{
    /// <inheritdoc cref="Commands.Execute{TState}"/>
    public async Task<Outcome> Execute<TState>(CommandContext context, Guid streamId, Func<TState?, Decided> decide, CancellationToken ct)
        where TState : class, IFolded<TState> =>
        Notified(context, await commands.ExecuteNaming<TState>(context, streamId, _ => Task.FromResult(decide), ct));

    /// <inheritdoc cref="Commands.ExecuteNaming{TState}"/>
    public async Task<Outcome> ExecuteHolding<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, Decided>>> look,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Notified(context, await commands.ExecuteNaming(context, streamId, look, ct));

    /// <inheritdoc cref="Commands.ExecuteOnHistory{TState}"/>
    public async Task<Outcome> ExecuteOnHistory<TState>(
        CommandContext context,
        Guid streamId,
        Func<TState?, IReadOnlyList<object>, Decided> decide,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> =>
        Notified(context, await commands.ExecuteOnHistory<TState>(context, streamId, _ => Task.FromResult(decide), ct));

    /// <inheritdoc cref="Commands.ExecuteOnBoth{TState}"/>
    public async Task<Outcome> ExecuteOnBoth<TState>(
        CommandContext context,
        Guid firstId,
        Guid secondId,
        Func<TState?, TState?, IReadOnlyList<object>, DecidedOnBoth> decide,
        CancellationToken ct
    )
        where TState : class, IFolded<TState> => Notified(context, await commands.ExecuteOnBoth(context, firstId, secondId, decide, ct));

    private Outcome Notified(CommandContext context, Outcome outcome)
    {
        if (outcome.Refused is null)
            changes.SomethingHappened(context.Tenant);
        return outcome;
    }
}
