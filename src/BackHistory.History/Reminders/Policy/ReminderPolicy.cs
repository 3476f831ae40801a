using BackHistory.History.Horses;

namespace BackHistory.History.Reminders.Policy;

/// <summary>
/// From an assessment to reminders: at most one open for a family of rules, horse and saddle; resolved by the visit or the work that it
/// asked for;
/// withdrawn when what it rested on was corrected; silent while something weightier is said. Pure.
/// </summary>
public static class ReminderPolicy
{
    /// <summary>Who does what nobody did: the service itself.</summary>
    public static readonly Guid TheService = DeterministicId.From("the-service");

    /// <summary>Whoever answers a letter by its link: known by the letter, not by a sign-in.</summary>
    public static readonly Guid TheReader = DeterministicId.From("the-reader-of-a-letter");

    public static IReadOnlyList<ReminderStep> Steps(Situation now)
    {
        IReadOnlyList<ReminderTrigger> triggers = now.Horse.Gone
            ? []
            : ReminderTriggers.Current(now.Horse, now.Visits, now.Assessment, now.Rules, now.Watch, now.Zone);
        var standing = now.Reminders.Where(r => !r.Over).ToList();
        var steps = new List<ReminderStep>(
            standing.Select(r => ResolutionRules.StepFor(now, r, TriggerFor(triggers, r))).OfType<ReminderStep>()
        );
        var ended = steps.Select(s => s.ReminderId).ToHashSet();
        var remaining = standing.Where(r => !ended.Contains(r.Id)).ToList();

        // A vet's note that ends a caution in this round says that the horse was seen, not that it was cleared.
        var seen = steps
            .OfType<ResolveStep>()
            .FirstOrDefault(s =>
                s is { VisitId: null, WorkId: null }
                && standing.Any(r => r.Id == s.ReminderId && Families.FamilyOf(r.Rule) == ReminderFamily.Vet)
            );
        var suppression = new SuppressionRules(now.OutOfWork, seen?.ReminderId ?? AwaitsVet(now.Reminders)?.Id, remaining);
        // The weightiest first, so that what begins to speak in this round silences the rest in this round.
        foreach (var trigger in triggers.OrderBy(g => g.Family))
        {
            if (Begin(now, trigger, standing, ended, suppression) is not { } begins)
                continue;
            steps.Add(begins);
            if (begins is OpenStep or RaiseStep { Command.HoldUntil: null })
                suppression.Add(begins.ReminderId, trigger.Family, trigger.SaddleId);
        }

        foreach (var reminder in remaining)
            steps.AddRange(Going(now, reminder, suppression));
        return steps;
    }

    /// <summary>The caution that was ended by hand and whose horse nobody has said to be cleared; null without one. The last caution
    /// counts.</summary>
    public static Reminder? AwaitsVet(IEnumerable<Reminder> reminders) =>
        reminders
            .Where(r => Families.FamilyOf(r.Rule) == ReminderFamily.Vet && r.Over && r.State != ReminderState.Withdrawn)
            .MaxBy(r => r.RaisedAt)
            is { AwaitsVet: true } one
            ? one
            : null;

    /// <summary>The caution to see a veterinary surgeon that stands, also where something silences it; null without one.</summary>
    public static Reminder? StandingCaution(IEnumerable<Reminder> reminders) =>
        reminders
            .Where(r => Families.FamilyOf(r.Rule) == ReminderFamily.Vet && !r.Over && r.State != ReminderState.Pending)
            .MaxBy(r => r.RaisedAt);

    /// <summary>The first day after today on which a reminder of this horse can move though nothing happens.</summary>
    public static DateOnly? NextLook(Situation now)
    {
        var open = now.Reminders.Where(r => !r.Over).ToList();
        IEnumerable<DateOnly?> days =
        [
            .. open.Select(r => r.HoldUntil),
            .. open.Select(r => r.PutOffUntil),
            .. open.Select(r => r.BookedFor is { } at ? now.Day(at).AddDays(now.Rules.Letters.PassedDays) : (DateOnly?)null),
            .. open.Select(r => LettersOf.Unanswered(r, now.Rules, now.Zone)),
            ReminderTriggers.ForecastSilentUntil(
                now.Assessment,
                now.Visits.Where(v => !v.Withdrawn).Select(v => (DateOnly?)now.Day(v.TakenAt)).Max(),
                now.Rules
            ),
            .. now.Horse.Care.Where(c => c.Kind == CareKind.LayOff).SelectMany(c => (DateOnly?[])[c.From, c.Until]),
            .. now.Assessment.Saddles.Select(s =>
                ReminderTriggers.RecheckDue(now.Horse, now.Visits, s.SaddleId, now.Rules.NotRechecked, now.Zone)?.On
            ),
            .. now
                .Reminders.Where(r => r.ClosedAt is not null)
                .Select(r => (DateOnly?)now.Day(r.ClosedAt!.Value).AddDays(now.Rules.SettingOf(r.Rule).QuietDays)),
        ];
        return days.Where(d => d > now.AsOf).Min();
    }

    /// <summary>A ground for which no reminder stands raises one; a pending one whose time has come opens.</summary>
    private static ReminderStep? Begin(
        Situation now,
        ReminderTrigger trigger,
        IReadOnlyList<Reminder> standing,
        HashSet<Guid> ended,
        SuppressionRules suppression
    )
    {
        var known = standing.FirstOrDefault(r => Same(trigger, r));
        if (suppression.Silenced(trigger.Family, trigger.SaddleId, known?.Id) is not null)
            return null;
        // The one that ends in this round is looked at again in the next, when its end is written down.
        if (known is null)
            return MayRaise(now, trigger) ? Raise(now, trigger, [.. standing.Where(r => !ended.Contains(r.Id))]) : null;
        return known is { State: ReminderState.Pending } && known.HoldUntil <= now.AsOf && !ended.Contains(known.Id)
            ? new OpenStep(known.Id, LettersOf.Finding(now.Readers.FirstReaderFor(known.Evidence), known))
            : null;
    }

    /// <summary>What happens to a reminder that was heard, or silenced, before.</summary>
    private static IEnumerable<ReminderStep> Going(Situation now, Reminder reminder, SuppressionRules suppression)
    {
        var silence = suppression.Silenced(Families.FamilyOf(reminder.Rule), reminder.SaddleId, reminder.Id);
        switch (reminder.State)
        {
            case ReminderState.Pending:
                break;
            case ReminderState.Muted when silence is null:
                yield return new UnmuteStep(reminder.Id);
                break;
            case ReminderState.Muted
                when silence is { } other && (other.Because != reminder.MutedBecause || other.By != reminder.CoveredBy):
                yield return new MuteStep(reminder.Id, other.Because, other.By);
                break;
            case ReminderState.Muted:
                break;
            case var _ when silence is { } one:
                yield return new MuteStep(reminder.Id, one.Because, one.By);
                break;
            case ReminderState.PutOff when reminder.PutOffUntil <= now.AsOf:
                yield return new ResumeStep(reminder.Id, LettersOf.Finding(now.Readers.FirstReaderFor(reminder.Evidence), reminder));
                break;
            case ReminderState.Booked when now.Day(reminder.BookedFor!.Value).AddDays(now.Rules.Letters.PassedDays) <= now.AsOf:
                yield return new ResumeStep(reminder.Id, []);
                break;
            case ReminderState.Open
                when now.Readers.After(reminder.Evidence) is { } second && LettersOf.Unanswered(reminder, now.Rules, now.Zone) <= now.AsOf:
                yield return new EscalateStep(reminder.Id, LettersOf.To(second, reminder, LetterKind.NoAnswer)[0]);
                break;
            default:
                break;
        }
    }

    private static ReminderTrigger? TriggerFor(IReadOnlyList<ReminderTrigger> triggers, Reminder reminder) =>
        triggers.FirstOrDefault(g => Same(g, reminder));

    private static bool Same(ReminderTrigger trigger, Reminder reminder) =>
        trigger.Family == Families.FamilyOf(reminder.Rule)
        && (!Families.OfOneSaddle(trigger.Family) || trigger.SaddleId == reminder.SaddleId);

    private static bool MayRaise(Situation now, ReminderTrigger trigger)
    {
        // What was taken back a moment ago is still being entered, but what it had ended was known long before.
        if (trigger.Family == ReminderFamily.Calendar && now.Assessment.HoldUntil > now.Now && Undone(now, trigger) is null)
            return false;
        var quiet = now.Rules.SettingOf(trigger.Rule).QuietDays;
        return !now.Reminders.Any(r =>
            Same(trigger, r)
            && r.Evidence.Baseline == trigger.Evidence.Baseline
            && r.WorkId == trigger.WorkId
            && r.ClosedAt is { } closed
            && now.Day(closed).AddDays(quiet) > now.AsOf
        );
    }

    /// <summary>The last reminder of this ground, where its end was a mistake; null when it ended by what stands.</summary>
    private static Reminder? Undone(Situation now, ReminderTrigger trigger) =>
        now.Reminders.Where(r => Same(trigger, r)).MaxBy(r => r.RaisedAt) is { } last
        && ResolutionRules.EndWasUndone(now, last)
        && last.Evidence.Baseline == trigger.Evidence.Baseline
        && last.WorkId == trigger.WorkId
            ? last
            : null;

    private static RaiseStep Raise(Situation now, ReminderTrigger trigger, IReadOnlyList<Reminder> remaining)
    {
        var earlier = now.Reminders.Count(r => r.SaddleId == trigger.SaddleId && r.Rule == trigger.Rule);
        var id = ReminderIds.IdFor(now.Tenant, now.Horse.Id, trigger.SaddleId, trigger.Rule, earlier);
        var undone = Undone(now, trigger);
        // What was called off with a registration was told to be off: that one begins anew.
        var takesUp = undone is { State: ReminderState.Done } ? undone : null;
        var hold = undone is null ? now.Rules.SettingOf(trigger.Rule).HoldDays : 0;
        DateOnly? holdUntil = hold > 0 ? now.AsOf.AddDays(hold) : null;
        // Somebody is coming already: the weightier reminder takes the date over.
        var booked = remaining.FirstOrDefault(r =>
            r.State == ReminderState.Booked && r.BookedFor > now.Now && Families.FamilyOf(r.Rule) > trigger.Family
        );
        booked ??= takesUp?.BookedFor > now.Now ? takesUp : null;
        var booking =
            booked is null || holdUntil is not null
                ? null
                : new BookVisit(
                    booked.BookingId!.Value,
                    booked.BookedFor!.Value,
                    TheService,
                    Fitter: booked.Fitter,
                    Sequence: booked.BookingSequence
                );
        var putOff =
            booking is null && takesUp?.PutOffUntil is { } until && until > now.AsOf
                ? new PutOffReminder(until, takesUp.PutOffBecause ?? "", TheService)
                : null;
        // Whoever has answered or been given a date is not asked the same again.
        var asks = holdUntil is null && (takesUp is null || (takesUp.Answer is null && putOff is null && booking is null));
        return new RaiseStep(
            id,
            new RaiseReminder(
                id,
                now.Horse.Id,
                trigger.SaddleId,
                trigger.Rule,
                trigger.Evidence,
                asks ? LettersOf.First(now.Readers.FirstReaderFor(trigger.Evidence), id, trigger.Rule) : [],
                TheService,
                holdUntil,
                trigger.WorkId,
                booking,
                takesUp,
                putOff
            )
        );
    }
}
