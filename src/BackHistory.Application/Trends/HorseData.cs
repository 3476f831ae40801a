using BackHistory.History.Practices;
using BackHistory.Store;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Trends;

/// <summary>Reads everything that a page, a chart or a letter about one horse needs.</summary>
public sealed class HorseData(
    HorseQueries horses,
    ReminderQueries reminders,
    PracticeQueries practices,
    Progress progress,
    TimeProvider time
)
{
    /// <summary>How long whoever opens a horse that was registered a moment ago waits for what is read of it.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    /// <returns>Null when this practice has no such horse.</returns>
    public async Task<HorseRecord?> Load(string practice, Guid horseId, CancellationToken ct)
    {
        var profile = await horses.Profile(practice, horseId, ct);
        if (profile is null && await horses.Load(practice, horseId, ct) is not null)
        {
            await progress.Wait(await progress.Last(ct), Patience, time, ct);
            profile = await horses.Profile(practice, horseId, ct);
        }

        var rules = await practices.Load(practice, ct);
        if (profile is null || rules is null)
            return null;
        var visits = await horses.Visits(practice, horseId, ct) ?? [];
        var assessment = await reminders.Assessment(practice, horseId, ct);
        return new HorseRecord(profile, visits, assessment, rules, PracticeClock.Today(rules, time));
    }
}
