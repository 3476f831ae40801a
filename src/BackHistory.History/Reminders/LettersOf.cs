namespace BackHistory.History.Reminders;

/// <summary>Which letters a reminder owes to whom.</summary>
public static class LettersOf
{
    /// <summary>The letter that tells the finding.</summary>
    public static LetterKind KindOf(ReminderRule rule) => LetterKinds.Telling(Families.FamilyOf(rule));

    /// <summary>Letters that ask their reader for an answer.</summary>
    public static bool Owner(LetterKind kind) => LetterKinds.DefinitionOf(kind).AsksAnswer;

    public static IReadOnlyList<LetterToWrite> First(Guid? reader, Guid reminderId, ReminderRule rule)
    {
        var kind = KindOf(rule);
        return reader is { } to ? [new LetterToWrite(ReminderIds.LetterOf(reminderId, kind, to), kind, to)] : [];
    }

    /// <summary>The finding once more: after a pause, or when a pending reminder opens.</summary>
    public static IReadOnlyList<LetterToWrite> Finding(Guid? reader, Reminder reminder) => To(reader, reminder, KindOf(reminder.Rule));

    public static IReadOnlyList<LetterToWrite> To(Guid? reader, Reminder reminder, LetterKind kind)
    {
        if (reader is not { } to)
            return [];
        var earlier = reminder.Post.Count(l => l.Kind == kind && l.To == to);
        return [new LetterToWrite(ReminderIds.LetterOf(reminder.Id, kind, to, earlier), kind, to)];
    }

    /// <summary>The day on which a second person is told; null while nobody is waited for.</summary>
    public static DateOnly? Unanswered(Reminder reminder, ReminderRules rules, TimeZoneInfo zone)
    {
        if (reminder.State != ReminderState.Open || reminder.Answer is not null)
            return null;
        var last = reminder.Post.LastOrDefault(l => Owner(l.Kind));
        if (last is null || reminder.Post.Any(l => LetterKinds.DefinitionOf(l.Kind).SaysSilence && l.OwedAt >= last.OwedAt))
            return null;
        // Who cannot be reached does not answer either.
        return last.Failed ? ZoneClock.Day(last.OwedAt, zone)
            : last is { Reached: true, SentAt: { } at } ? ZoneClock.Day(at, zone).AddDays(rules.Letters.NoAnswerDays)
            : null;
    }
}
