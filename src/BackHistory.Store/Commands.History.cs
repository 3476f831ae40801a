using BackHistory.History;

namespace BackHistory.Store;

/// <summary>A decision that needs to know what was recorded, not only how it stands.</summary>
public sealed partial class Commands
{
    /// <summary>Carries a command out on all that was recorded of a stream; decided again when somebody else wrote in between.</summary>
    /// <param name="look">Reads what else is needed, and gives the decision, which is given the state and all events of the stream.</param>
    public async Task<Outcome> ExecuteOnHistory<TState>(
        CommandContext context,
        Guid streamId,
        Func<Held, Task<Func<TState?, IReadOnlyList<object>, Decided>>> look,
        CancellationToken ct
    )
        where TState : class, IFolded<TState>
    {
        for (var attempt = 1; ; attempt++)
        {
            var history = await Recorded(context.Tenant, streamId, ct);
            var outcome = await ExecuteHolding<TState>(
                context with
                {
                    ExpectedVersion = context.ExpectedVersion ?? history.Count,
                },
                streamId,
                async held =>
                {
                    var decide = await look(held);
                    return state => decide(state, history);
                },
                ct
            );
            if (outcome.Refused?.Kind != RefusalKind.Stale || context.ExpectedVersion is not null || attempt == Attempts)
                return outcome;
        }
    }

    private async Task<IReadOnlyList<object>> Recorded(string practice, Guid stream, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return [.. (await session.Events.FetchStreamAsync(stream, token: ct)).Select(e => e.Data)];
    }
}
