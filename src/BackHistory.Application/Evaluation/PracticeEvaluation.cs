using BackHistory.Application.Letters;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Reminders;
using HorseEvaluation = BackHistory.Store.Reminders.Evaluation;

namespace BackHistory.Application.Evaluation;

/// <summary>Looks at a practice's horses whose state can have changed, and writes down which letters follow.</summary>
public sealed class PracticeEvaluation(
    HorseEvaluation evaluation,
    ReminderQueries reminders,
    DigestSchedule digests,
    EvaluationRuns runs,
    ArchiveIntake archives,
    Progress progress,
    TimeProvider time
)
{
    /// <summary>Longer than read models ever lag while they follow; where they have stopped, what they know already is evaluated.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <returns>Whether letters are owed now.</returns>
    public async Task<bool> Run(string practice, CancellationToken ct)
    {
        // After a restart the word of a visit can come before the read models know it; the next word might come ten minutes later.
        await progress.Wait(await progress.Last(ct), Patience, time, ct);
        var started = time.GetUtcNow();
        var looked = await evaluation.Run(practice, ct);
        // Not noted as finished: whoever watches that practices are looked at sees one that waits for the rest of its archive.
        if (await archives.IsHalf(practice, ct))
            return false;
        WorkMetrics.Evaluated(looked, time.GetUtcNow() - started);
        await runs.Finished(practice, started, time.GetUtcNow(), looked, ct);
        await digests.Owe(practice, ct);
        return await reminders.AnyOwed(practice, ct);
    }
}
