using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>Writes down which letters about many horses are due. Asked every few minutes; what is owed already is found by its
/// id.</summary>
public sealed class DigestSchedule(
    PracticeQueries practices,
    ReminderQueries reminders,
    HorseQueries horses,
    Commands commands,
    ArchiveIntake archives,
    TimeProvider time
)
{
    /// <returns>How many were new.</returns>
    public async Task<int> Owe(string practice, CancellationToken ct)
    {
        if (await archives.IsHalf(practice, ct) || await practices.Load(practice, ct) is not { } known)
            return 0;
        var now = time.GetUtcNow();
        var zone = TimeZoneInfo.FindSystemTimeZoneById(known.TimeZone);
        // A practice without a horse has no week to tell of.
        var managers = await horses.Any(practice, ct)
            ? (await practices.InRole(practice, PersonRole.Manager, ct)).Select(p => p.Id).ToList()
            : [];
        var due = Digests.Due(practice, known.ReminderRules.Letters, zone, now, managers, await FittersToday(practice, zone, now, ct));
        var fresh = 0;
        foreach (var one in due)
        {
            var owed = new DigestOwed(one.Id, one.Kind, one.To, one.On, now, ReminderPolicy.TheService);
            var context = new CommandContext(practice, ReminderPolicy.TheService, $"bulletin:{one.Id}", "", null, now);
            var outcome = await commands.Execute<Digest>(context, one.Id, b => DigestDecider.Owe(b, owed), ct);
            if (!outcome.Repeated)
                fresh++;
        }

        return fresh;
    }

    /// <summary>Who has somewhere to go today: those who are named, and every fitter where nobody is.</summary>
    private async Task<IReadOnlyList<Guid>> FittersToday(string practice, TimeZoneInfo zone, DateTimeOffset now, CancellationToken ct)
    {
        var today = ZoneClock.Day(now, zone);
        var booked = await reminders.Booked(
            practice,
            ZoneClock.At(today, TimeOnly.MinValue, zone),
            ZoneClock.At(today.AddDays(1), TimeOnly.MinValue, zone),
            ct
        );
        if (booked.Count == 0)
            return [];
        var fitters = (await practices.InRole(practice, PersonRole.Fitter, ct)).Select(p => p.Id).ToList();
        return booked.Any(r => r.Fitter is null) ? fitters : [.. fitters.Intersect(booked.Select(r => r.Fitter!.Value))];
    }
}
