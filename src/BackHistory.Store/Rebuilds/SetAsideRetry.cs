using System.Text.Json;
using BackHistory.History;
using JasperFx.Events;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace BackHistory.Store.Rebuilds;

/// <summary>
/// Tries what was set aside again, once for every release: where something lies aside the practice's documents are built anew beside the
/// living service, and what can be read now is no longer noted as unreadable.
/// </summary>
public sealed class SetAsideRetry(
    ShadowRebuild rebuild,
    IWholeHistory whole,
    IDocumentStore store,
    [FromKeyedServices("owner")] NpgsqlDataSource owner,
    ILogger<SetAsideRetry> log
)
{
    /// <summary>Another for every build of the rules by which events are folded.</summary>
    public static string ThisRelease { get; } = typeof(SetAsideRetry).Module.ModuleVersionId.ToString();

    public async Task Run(string release, CancellationToken ct)
    {
        await using var turn = await AdvisoryLock.Take(owner, "try what was set aside", ct);
        await using var session = whole.LightweightSession();
        if ((await session.LoadAsync<SetAsideTried>(SetAsideTried.TheStore, ct))?.Release == release)
            return;
        foreach (var practice in await Practices(ct))
        {
            try
            {
                await rebuild.Run(practice, DateTimeOffset.UnixEpoch, _ => Task.CompletedTask, ct);
                await Forget(practice, ct);
            }
            catch (Exception fault) when (ComputationFault.IsOurs(fault))
            {
                log.LogError(fault, "What was set aside in {Practice} could not be tried again.", practice);
            }
        }

        session.Store(new SetAsideTried(SetAsideTried.TheStore, release));
        await session.SaveChangesAsync(ct);
    }

    private async Task<IReadOnlyList<string>> Practices(CancellationToken ct)
    {
        const string Sql = """
            select tenant_id from history.mt_doc_visitrecord where not_whole
            union select tenant_id from history.mt_doc_horseprofile where not_whole
            union select e.tenant_id
            from history.mt_doc_deadletterevent d join history.mt_events e on e.seq_id = (d.data ->> 'eventSequence')::bigint
            """;
        await using var command = owner.CreateCommand(Sql);
        await using var reader = await command.ExecuteReaderAsync(ct);
        var practices = new List<string>();
        while (await reader.ReadAsync(ct))
            practices.Add(reader.GetString(0));
        return practices;
    }

    /// <summary>Takes the notes away of events that can be read now: the documents were built anew with them.</summary>
    private async Task Forget(string practice, CancellationToken ct)
    {
        var noted = new HashSet<(long Sequence, Guid Id)>();
        const string Noted = """
            select e.seq_id, e.id
            from history.mt_doc_deadletterevent d join history.mt_events e on e.seq_id = (d.data ->> 'eventSequence')::bigint
            where e.tenant_id = $1
            """;
        await using (var command = owner.CreateCommand(Noted))
        {
            command.Parameters.Add(new NpgsqlParameter { Value = practice });
            await using var reader = await command.ExecuteReaderAsync(ct);
            while (await reader.ReadAsync(ct))
                noted.Add((reader.GetInt64(0), reader.GetGuid(1)));
        }

        foreach (var (sequence, id) in noted)
        {
            if (!await CanBeRead(practice, id, ct))
                continue;
            const string Read = "delete from history.mt_doc_deadletterevent where (data ->> 'eventSequence')::bigint = $1";
            await using var command = owner.CreateCommand(Read);
            command.Parameters.Add(new NpgsqlParameter { Value = sequence });
            await command.ExecuteNonQueryAsync(ct);
        }
    }

    private async Task<bool> CanBeRead(string practice, Guid id, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        try
        {
            return await session.Events.LoadAsync(id, ct) is not null;
        }
        catch (Exception fault) when (Unreadable(fault))
        {
            return false;
        }
    }

    /// <summary>Whether an event's bytes are none that this release knows.</summary>
    internal static bool Unreadable(Exception fault) =>
        fault is EventDeserializationFailureException or JsonException || (fault.InnerException is { } inner && Unreadable(inner));
}
