using System.Globalization;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Store;
using Marten;
using Npgsql;

namespace BackHistory.History.Reminders;

/// <summary>
/// Looks at the horses whose state can have changed, and raises, resolves or withdraws their reminders. Interrupted at any point and started again
/// it ends in the same state: what was decided is found by the ids that follow from what was decided.
/// </summary>
public sealed class Evaluation(IDocumentStore store, PracticeDatabase database, Commands commands, Progress progress, TimeProvider time)
{
    private const int Batch = 200;

    /// <summary>Evaluates a practice until nothing is pending.</summary>
    /// <returns>How many horses were looked at.</returns>
    public async Task<int> Run(string practice, CancellationToken ct)
    {
        // Two runs at once would do no harm, only the same work.
        await using var turn = await AdvisoryLock.Take(database.Members, $"evaluate:{practice}", ct);
        var looked = 0;
        while (true)
        {
            // Read first: what the read models learn while a horse is being looked at makes it pending again.
            var basedOn = await progress.ReadModels(ct);
            var rules = await Rules(practice, ct);
            if (rules is null) return looked;
            var today = Today(rules);
            var pending = await Pending(practice, basedOn, today, ct);
            foreach (var horseId in pending)
            {
                ct.ThrowIfCancellationRequested();
                await Look(practice, horseId, rules, today, basedOn, ct);
                looked++;
            }

            if (pending.Count < Batch && await progress.ReadModels(ct) <= basedOn) return looked;
        }
    }

    private async Task Look(string practice, Guid horseId, Practice rules, DateOnly today, long basedOn, CancellationToken ct)
    {
        await using var session = store.LightweightSession(practice);
        var horse = await session.LoadAsync<HorseProfile>(horseId, ct);
        if (horse is null) return;
        var visits = await session.Query<VisitRecord>().Where(v => v.HorseId == horseId).ToListAsync(ct);
        var earlier = await session.LoadAsync<Assessment>(horseId, ct);
        var reminders = await session.Query<Reminder>().Where(r => r.HorseId == horseId).ToListAsync(ct);
        var manager = (await session.Query<Person>().Where(p => p.Role == PersonRole.Manager).OrderBy(p => p.Id).FirstOrDefaultAsync(ct))?.Id;
        var readers = new Readers(horse.OwnerId ?? manager, horse.OwnerId is null || horse.OwnerId == manager ? null : manager);

        var assessment = Assessing.Assess(horse, visits, rules, today, basedOn, earlier);
        var situation = new Situation(practice, horse, visits, assessment, reminders, readers, rules.ReminderRules, rules.Rules, time.GetUtcNow());
        foreach (var step in ReminderPolicy.Steps(situation)) await Take(practice, step, reminders, ct);
        // Last: killed before this line, the horse is still pending and the steps are found done.
        session.Store(assessment with { ReassessOn = Earlier(assessment.ReassessOn, ReminderPolicy.NextLook(situation)) });
        await session.SaveChangesAsync(ct);
    }

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

    private async Task<Practice?> Rules(string practice, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return await session.Query<Practice>().FirstOrDefaultAsync(ct);
    }

    private DateOnly Today(Practice practice) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(time.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(practice.TimeZone)).DateTime);

    /// <summary>Horses about which something is known that their assessment does not know, or whose day has come.</summary>
    private async Task<IReadOnlyList<Guid>> Pending(string practice, long upTo, DateOnly today, CancellationToken ct)
    {
        const string Sql =
            """
            select h.id
            from history.mt_doc_horseprofile h
            left join history.mt_doc_assessment a on a.tenant_id = h.tenant_id and a.id = h.id
            where h.tenant_id = $1 and h.head <= $2
              and (a.id is null or a.based_on < h.head or a.reassess_on <= $3 or a.rules_version <> $5 or a.reminder_rules_version <> $7
                or (a.hold_until <= $6 and not h.has_reminder))
            order by h.id
            limit $4
            """;
        var rules = await Rules(practice, ct);
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(Sql, connection);
        foreach (object value in (object[])[practice, upTo, today, Batch, rules?.RulesVersion ?? 1, time.GetUtcNow(), rules?.ReminderRulesVersion ?? 1]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        var ids = new List<Guid>();
        await using var reader = await command.ExecuteReaderAsync(ct);
        while (await reader.ReadAsync(ct)) ids.Add(reader.GetGuid(0));
        return ids;
    }
}
