using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.DryRuns;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// One horse's history lived again under other rules, from day to day on which something could change: what would have been raised, and
/// which refits it would have preceded. Pure. People's answers are not played: nobody puts off, books or closes.
/// </summary>
public static class RuleSimulation
{
    /// <summary>Days on which one horse is looked at, at most.</summary>
    private const int MostLooks = 400;

    private static readonly Readers Nobody = new(null, null);

    /// <param name="practice">Its own rules are replaced by <paramref name="rules"/> and <paramref name="watch"/>.</param>
    public static SimulatedLife Simulate(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Practice practice,
        ReminderRules rules,
        WatchRules watch,
        DateOnly from,
        DateOnly to,
        ReminderSentence sentence,
        StateSentence because
    )
    {
        var under = practice with { Rules = watch, ReminderRules = rules };
        var zone = PracticeClock.Zone(practice);
        var reminders = new Dictionary<Guid, Reminder>();
        var opened = new Dictionary<Guid, DateOnly>();
        Assessment? earlier = null;
        var happened = Happened(horse, visits, zone).Where(d => d > from && d <= to).Order().ToList();
        var day = from > ZoneClock.Day(horse.RegisteredAt, zone) ? from : ZoneClock.Day(horse.RegisteredAt, zone);
        for (var looks = 0; day <= to && looks < MostLooks; looks++)
        {
            var (assessment, next) = Live(horse, visits, under, day, earlier, reminders);
            earlier = assessment;
            foreach (var r in reminders.Values.Where(r => r.Active))
                opened.TryAdd(r.Id, day);
            var event_ = happened.FirstOrDefault(d => d > day, DateOnly.MaxValue);
            var ahead = next is { } n && n > day ? n : DateOnly.MaxValue;
            day = event_ < ahead ? event_ : ahead;
            if (day == DateOnly.MaxValue)
                break;
        }

        // One whose ground did not hold was never told to anybody: it does not count.
        var told = reminders
            .Values.Where(r => opened.ContainsKey(r.Id))
            .OrderBy(r => opened[r.Id])
            .ThenBy(r => r.Id)
            .Select(r =>
                (
                    Reminder: r,
                    Said: new SimulatedReminder(
                        horse.Id,
                        horse.Name,
                        r.SaddleId,
                        r.Rule,
                        opened[r.Id],
                        EndOf(r, zone),
                        sentence(r.Rule, r.Evidence, horse.Name),
                        opened[r.Id] <= from
                    )
                )
            )
            .ToList();
        IReadOnlyList<SimulatedReminder> found = [.. told.Select(t => t.Said)];
        var heard = told.Where(t => t.Reminder.Active)
            .Select(t => t.Said)
            .OrderBy(r => Families.FamilyOf(r.Rule))
            .ThenBy(r => r.Rule)
            .ThenBy(r => r.SaddleId);
        return new SimulatedLife(
            found,
            [
                .. horse
                    .Fits.Where(f => ZoneClock.Day(f.TakenAt, zone) > from && ZoneClock.Day(f.TakenAt, zone) <= to)
                    .OrderBy(f => f.TakenAt)
                    .Select(f => Refit(horse, f, found, zone)),
            ],
            earlier is null ? null : new SimulatedOutcome(earlier.State, because(earlier, under.WatchBy()), [.. heard])
        );
    }

    /// <summary>One day: assessed, and every step taken until none follows.</summary>
    private static (Assessment Assessment, DateOnly? Next) Live(
        HorseProfile horse,
        IReadOnlyList<VisitRecord> visits,
        Practice under,
        DateOnly day,
        Assessment? earlier,
        Dictionary<Guid, Reminder> reminders
    )
    {
        var zone = PracticeClock.Zone(under);
        var now = ZoneClock.At(day, new TimeOnly(23, 0), zone);
        var known = KnownOn(horse, day, zone);
        IReadOnlyList<VisitRecord> seen =
        [
            .. visits.Where(v => !v.Withdrawn && ZoneClock.Day(v.TakenAt, zone) <= day).Select(v => v with { RecordedAt = v.TakenAt }),
        ];
        var assessment = Assessing.Assess(known, seen, under, day, 0, earlier) with { HoldUntil = null };
        var situation = new Situation(
            "",
            known,
            seen,
            assessment,
            [.. reminders.Values],
            Nobody,
            under.ReminderRules,
            under.Rules,
            now,
            zone
        );
        for (var round = 0; round < 8; round++)
        {
            var steps = ReminderPolicy.Steps(situation);
            if (steps.Count == 0)
                break;
            foreach (var step in steps)
                Take(reminders, step, now);
            situation = situation with { Reminders = [.. reminders.Values] };
        }

        var next = ReminderPolicy.NextLook(situation);
        return (assessment, next is null || assessment.ReassessOn < next ? assessment.ReassessOn ?? next : next);
    }

    private static void Take(Dictionary<Guid, Reminder> reminders, ReminderStep step, DateTimeOffset now)
    {
        foreach (var e in ReminderSteps.Decide(reminders.GetValueOrDefault(step.ReminderId), step, now).Events)
        {
            if (After(reminders.GetValueOrDefault(step.ReminderId), e, now) is { } reminder)
                reminders[step.ReminderId] = reminder;
        }
    }

    /// <summary>A reminder after one more of its events, while rules are only tried.</summary>
    /// <exception cref="UnknownEventException">nobody has decided what this event means here</exception>
    internal static Reminder? After(Reminder? reminder, object e, DateTimeOffset now) =>
        e switch
        {
            ReminderRaised or ReminderOpened or ReminderMuted or ReminderUnmuted or ReminderResumed => Reminder.After(reminder, e),
            ReminderResolved => Reminder.After(reminder, e)! with { ClosedAt = reminder!.ClosedAt ?? now },
            ReminderWithdrawn => Reminder.After(reminder, e)! with { ClosedAt = now },
            // Nobody is written to, and nobody answers.
            LetterOwed
            or LetterSent
            or LetterGivenUp
            or LetterDeferred
            or LetterDelayed
            or LetterDelivered
            or LetterBounced
            or ReminderAnswered
            or ReminderPutOff
            or VisitBooked
            or BookingCancelled
            or BookingPassed
            or ReminderClosed
            or VetCleared => reminder,
            _ => throw UnknownEventException.In(nameof(RuleSimulation), e),
        };

    /// <summary>The horse as it was on a day: what came later is not known yet.</summary>
    private static HorseProfile KnownOn(HorseProfile horse, DateOnly day, TimeZoneInfo zone) =>
        horse with
        {
            Fits = horse.Fits.RemoveAll(f => ZoneClock.Day(f.TakenAt, zone) > day),
            Work = horse.Work.RemoveAll(w => ZoneClock.Day(w.From, zone) > day),
            Care = horse.Care.RemoveAll(c => c.From > day),
            Visits = horse.Visits.RemoveRange(horse.Visits.Where(v => ZoneClock.Day(v.Value, zone) > day).Select(v => v.Key)),
            LastCorrection = null,
            RecordedAt = default,
        };

    private static SimulatedRefit Refit(HorseProfile horse, SaddleFit fit, IReadOnlyList<SimulatedReminder> reminders, TimeZoneInfo zone)
    {
        var on = ZoneClock.Day(fit.TakenAt, zone);
        var before = reminders
            .Where(r => r.On < on && (r.Until is null || r.Until >= on) && (r.SaddleId is null || r.SaddleId == fit.SaddleId))
            .MinBy(r => r.On);
        return new SimulatedRefit(horse.Id, horse.Name, fit.SaddleId, on, before?.On, before?.Rule);
    }

    private static IEnumerable<DateOnly> Happened(HorseProfile horse, IReadOnlyList<VisitRecord> visits, TimeZoneInfo zone) =>
        visits
            .Where(v => !v.Withdrawn)
            .Select(v => ZoneClock.Day(v.TakenAt, zone))
            .Concat(horse.Fits.Select(f => ZoneClock.Day(f.TakenAt, zone)))
            .Concat(horse.Work.Select(w => ZoneClock.Day(w.From, zone)))
            .Concat(horse.Care.Select(c => c.From));

    private static DateOnly? EndOf(Reminder r, TimeZoneInfo zone) => r.Over && r.ClosedAt is { } at ? ZoneClock.Day(at, zone) : null;
}
