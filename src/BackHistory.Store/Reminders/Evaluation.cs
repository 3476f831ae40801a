using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Archives;
using Marten;
using Npgsql;

namespace BackHistory.Store.Reminders;

/// <summary>
/// Looks at the horses whose state can have changed, and raises, resolves or withdraws their reminders. Interrupted at any point and
/// started again it ends in the same state: what was decided is found by the ids that follow from what was decided.
/// </summary>
public sealed class Evaluation(
    IDocumentStore store,
    PracticeDatabase database,
    Commands commands,
    Progress progress,
    ReminderSentence sentence,
    TimeProvider time
)
{
    /// <summary>Horses of one slice that are looked at in one round.</summary>
    private const int Batch = 200;

    /// <summary>Horses looked at together: most of the time of one is waiting for the database.</summary>
    private const int Together = 4;

    /// <summary>Evaluates a practice until nothing is pending. Several services may do so at once: they share the horses.</summary>
    /// <returns>How many horses were looked at here.</returns>
    public async Task<int> Run(string practice, CancellationToken ct)
    {
        var looked = 0;
        var before = -1L;
        while (true)
        {
            // Read first: what the read models learn while a horse is being looked at makes it pending again.
            var basedOn = await progress.ReadModels(ct);
            // Asked after that, so that no horse of an archive which was begun in between is among those that are looked at.
            if (await HalfAnArchive(practice, ct) || await Rules(practice, ct) is not { } rules)
                return looked;
            var waiting = await WaitingSlices(practice, rules, basedOn, ct);
            // Nothing new came since the last round looked at all of it: whatever still seems to wait would wait for ever.
            if (waiting.Count == 0 || basedOn == before)
                return looked;
            var (mine, elsewhere) = await Share(practice, waiting, rules, basedOn, ct);
            looked += mine;
            before = elsewhere is null ? basedOn : -1;
            if (elsewhere is not { } slice)
                continue;
            // Another service is at these: when it is done nothing is left, and if it died this one goes on.
            await using var turn = await AdvisoryLock.Take(database.Members, Turn(practice, slice), ct);
        }
    }

    /// <summary>Takes every slice that nobody else has.</summary>
    /// <returns>How many horses were looked at, and a slice that somebody else has; null when nobody has any.</returns>
    private async Task<(int Looked, int? Elsewhere)> Share(
        string practice,
        IReadOnlyList<int> slices,
        Practice rules,
        long basedOn,
        CancellationToken ct
    )
    {
        var (looked, elsewhere) = (0, (int?)null);
        foreach (var slice in slices)
        {
            await using var turn = await AdvisoryLock.TryTake(database.Members, Turn(practice, slice), ct);
            if (turn is null)
                elsewhere ??= slice;
            else
                looked += await Slice(practice, slice, rules, basedOn, ct);
        }

        return (looked, elsewhere);
    }

    private static string Turn(string practice, int slice) => string.Create(CultureInfo.InvariantCulture, $"evaluate:{practice}:{slice}");

    private async Task<int> Slice(string practice, int slice, Practice rules, long basedOn, CancellationToken ct)
    {
        var looked = 0;
        var today = Today(rules);
        for (Guid? after = null; ; )
        {
            var pending = await Pending(practice, slice, after, rules, basedOn, ct);
            await Parallel.ForEachAsync(
                pending,
                new ParallelOptions { MaxDegreeOfParallelism = Together, CancellationToken = ct },
                async (horseId, stop) => await Look(practice, horseId, rules, today, basedOn, stop)
            );
            looked += pending.Count;
            if (pending.Count < Batch)
                return looked;
            after = pending[^1];
        }
    }

    private async Task Look(string practice, Guid horseId, Practice rules, DateOnly today, long basedOn, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        var horse = await session.LoadAsync<HorseProfile>(horseId, ct);
        if (horse is null)
            return;
        var visits = await session.Query<VisitRecord>().Where(v => v.HorseId == horseId).ToListAsync(ct);
        var earlier = await session.LoadAsync<Assessment>(horseId, ct);
        var reminders = await session.Query<Reminder>().Where(r => r.HorseId == horseId).ToListAsync(ct);
        var manager = Readers.ManagerOf(await session.Query<Person>().Where(p => p.Role == PersonRole.Manager).ToListAsync(ct))?.Id;

        var assessment = Assessing.Assess(horse, visits, rules, today, basedOn, earlier);
        var tracer = ReminderTriggers.TracerOf(assessment, visits, PracticeClock.Zone(rules)) is { } by
            ? await session.LoadAsync<Person>(by, ct)
            : null;
        var readers = Readers.Of(horse.OwnerId, manager, tracer is { Role: PersonRole.Fitter or PersonRole.Manager } ? tracer.Id : null);
        var situation = new Situation(
            practice,
            horse,
            visits,
            assessment,
            reminders,
            readers,
            rules.ReminderRules,
            rules.Rules,
            time.GetUtcNow(),
            PracticeClock.Zone(rules)
        );
        foreach (var step in ReminderPolicy.Steps(situation))
            await Take(practice, Said(step, horse), reminders, ct);
        // A check that was held back while somebody was entering is held back no more.
        var hold = assessment.HoldUntil <= situation.Now ? null : assessment.HoldUntil;
        // Last: killed before this line, the horse is still pending and the steps are found done.
        session.Store(
            assessment with
            {
                ReassessOn = Earlier(assessment.ReassessOn, ReminderPolicy.NextLook(situation)),
                HoldUntil = hold,
            }
        );
        await session.SaveChangesAsync(ct);
    }

    private ReminderStep Said(ReminderStep step, HorseProfile horse) =>
        step is RaiseStep raise ? raise with { Command = raise.Command.WithSentence(sentence, horse.Name) } : step;

    private async Task Take(string practice, ReminderStep step, IReadOnlyList<Reminder> reminders, CancellationToken ct)
    {
        var now = time.GetUtcNow();
        // The same step from the same version of a reminder is the same command, however often it is taken.
        var version = reminders.FirstOrDefault(r => r.Id == step.ReminderId)?.Version ?? 0;
        var key = string.Create(CultureInfo.InvariantCulture, $"evaluation:{step.GetType().Name}:{step.ReminderId}:{version}");
        var context = new CommandContext(practice, ReminderPolicy.TheService, key, "", null, now);
        await commands.Execute<Reminder>(context, step.ReminderId, reminder => ReminderSteps.Decide(reminder, step, now), ct);
    }

    private static DateOnly? Earlier(DateOnly? a, DateOnly? b) => a is null || b < a ? b : a;

    private async Task<bool> HalfAnArchive(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.LoadAsync<TakenArchive>(TakenArchive.TheOne, ct) is { IsHalf: true };
    }

    private async Task<Practice?> Rules(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Practice>().FirstOrDefaultAsync(ct);
    }

    private DateOnly Today(Practice practice) => PracticeClock.Today(practice, time);

    private const string FromPending = """
        from history.mt_doc_horseprofile h
        left join history.mt_doc_assessment a on a.tenant_id = h.tenant_id and a.id = h.id
        where h.tenant_id = $1 and h.head <= $2
          and (a.id is null or a.based_on < h.head or a.reassess_on <= $3 or a.rules_version <> $4 or a.reminder_rules_version <> $5
            or (a.hold_until <= $6 and not h.has_reminder))
        """;

    /// <summary>Slices in which somebody is pending.</summary>
    private async Task<IReadOnlyList<int>> WaitingSlices(string practice, Practice rules, long upTo, CancellationToken ct)
    {
        await using var connection = await database.Open(practice, ct);
        await using var command = Ask(
            connection,
            $"select distinct substr(h.id::text, 1, 1) {FromPending} order by 1",
            practice,
            rules,
            upTo
        );
        var slices = new List<int>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            slices.Add(int.Parse(reader.GetString(0), NumberStyles.HexNumber, CultureInfo.InvariantCulture));
        return slices;
    }

    /// <summary>Horses of a slice about which something is known that their assessment does not know, or whose day has come.</summary>
    private async Task<IReadOnlyList<Guid>> Pending(
        string practice,
        int slice,
        Guid? after,
        Practice rules,
        long upTo,
        CancellationToken ct
    )
    {
        await using var connection = await database.Open(practice, ct);
        await using var command = Ask(
            connection,
            $"select h.id {FromPending} and h.id >= $7 and h.id <= $8 and ($9::uuid is null or h.id > $9) order by h.id limit "
                + $"{Batch.ToString(CultureInfo.InvariantCulture)}",
            practice,
            rules,
            upTo
        );
        var (first, last) = Bounds(slice);
        command.Parameters.Add(new NpgsqlParameter { Value = first });
        command.Parameters.Add(new NpgsqlParameter { Value = last });
        command.Parameters.Add(
            new NpgsqlParameter { Value = after is { } id ? id : DBNull.Value, NpgsqlDbType = NpgsqlTypes.NpgsqlDbType.Uuid }
        );
        var ids = new List<Guid>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct))
            ids.Add(reader.GetGuid(0));
        return ids;
    }

    private NpgsqlCommand Ask(NpgsqlConnection connection, string sql, string practice, Practice rules, long upTo)
    {
        var command = new NpgsqlCommand(sql, connection);
        foreach (object value in (object[])[practice, upTo, Today(rules), rules.RulesVersion, rules.ReminderRulesVersion, time.GetUtcNow()])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return command;
    }

    /// <summary>Horses are shared out by the first digit of their ids, which is as good as chance: its first and last id as PostgreSQL
    /// orders them.</summary>
    private static (Guid First, Guid Last) Bounds(int slice)
    {
        var digit = slice.ToString("x", CultureInfo.InvariantCulture)[0];
        return (Guid.ParseExact(digit + new string('0', 31), "N"), Guid.ParseExact(digit + new string('f', 31), "N"));
    }
}
