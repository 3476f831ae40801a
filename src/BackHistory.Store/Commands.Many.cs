using BackHistory.History;
using BackHistory.Store.Projections;

namespace BackHistory.Store;

/// <summary>Many commands on one stream in one transaction: the way for large histories. Each is decided, refused and receipted as if it
/// came alone.</summary>
public sealed partial class Commands
{
    /// <param name="context">Whose and when; its key and version are not looked at.</param>
    /// <returns>An outcome for each, in order.</returns>
    public async Task<IReadOnlyList<Outcome>> ExecuteAll<TState>(
        CommandContext context,
        Guid streamId,
        IReadOnlyList<OneOfMany<TState>> commands,
        CancellationToken ct
    )
        where TState : class, IFolded<TState>
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await AllOnce(context, streamId, commands, ct);
            }
            catch (Exception e) when ((Race(e) || OutcomeUnknown(e)) && attempt < Attempts)
            {
                // Somebody else came first, or the reply to the commit was lost: the receipts say what was done.
            }
            catch (Exception e) when (Race(e))
            {
                return [.. commands.Select(_ => new Outcome(streamId, 0, 0, CommandRefusals.Busy))];
            }
        }
    }

    private async Task<IReadOnlyList<Outcome>> AllOnce<TState>(
        CommandContext context,
        Guid streamId,
        IReadOnlyList<OneOfMany<TState>> commands,
        CancellationToken ct
    )
        where TState : class, IFolded<TState>
    {
        await using var session = Open(context);
        var held = new Held(session, context.Tenant, ct);
        var receipts = (
            await session.LoadManyAsync<CommandReceipt>(ct, commands.Select(c => c.Key).Distinct(StringComparer.Ordinal).ToArray())
        ).ToDictionary(r => r.Id, StringComparer.Ordinal);
        var stream = await session.Events.FetchForWriting<TState>(streamId, ct);
        var (state, version) = (stream.Aggregate, stream.CurrentVersion ?? 0);
        var (outcomes, events) = (new List<Outcome>(commands.Count), new List<object>());
        foreach (var command in commands)
        {
            if (receipts.TryGetValue(command.Key, out var earlier))
            {
                outcomes.Add(
                    earlier.Fingerprint == command.Fingerprint
                        ? new Outcome(earlier.StreamId, earlier.Version, 0, null, Repeated: true)
                        : new Outcome(streamId, version, 0, CommandRefusals.KeyReused)
                );
                continue;
            }

            if (command.Look is { } look)
                await look(held);
            var decided = command.Decide(state);
            if (decided.Refused is null && Consequences.Problem(decided, streamId, _measured) is { } cannot)
                decided = Decided.No(cannot);
            if (decided.Refused is null && await Named.Problem(held, context.Actor, decided, Earlier) is { } notThere)
                decided = Decided.No(notThere);
            if (decided.Refused is null && decided.Events.Count > 0)
            {
                foreach (var e in decided.Events)
                    state = TState.After(state, e);
                events.AddRange(decided.Events);
                version += decided.Events.Count;
                SideDocuments.Save(session, decided.SideDocuments);
                receipts[command.Key] = new CommandReceipt(command.Key, command.Fingerprint, streamId, version, context.Now);
                session.Insert(receipts[command.Key]);
            }

            outcomes.Add(new Outcome(streamId, version, 0, decided.Refused));
        }

        if (events.Count == 0)
            return outcomes;
        if (stream.CurrentVersion is null or 0)
            session.Events.StartStream<TState>(streamId, events);
        else
            stream.AppendMany(events);
        foreach (var e in session.PendingChanges.Streams().SelectMany(s => s.Events))
            e.Timestamp = context.Now;
        await session.SaveChangesAsync(ct);
        return outcomes;

        Task<IReadOnlyList<object>> Earlier() => Task.FromResult<IReadOnlyList<object>>(events);
    }
}
