using BackHistory.History.Reminders;

namespace BackHistory.Service.Reminders;

/// <summary>How a reminder stands, in words of the page.</summary>
internal static class ReminderWords
{
    public static string Family(ReminderRule rule) =>
        Families.Of(rule) switch
        {
            ReminderFamily.Vet => "To the vet first",
            ReminderFamily.Shape => "Set to another shape",
            ReminderFamily.Recheck => "Look at it again",
            ReminderFamily.Again => "Measure again",
            _ => rule == ReminderRule.NoVisit ? "Never measured" : "Check due",
        };

    /// <summary>What is expected of somebody, apart from who was told.</summary>
    public static string Stands(Reminder r, Func<DateTimeOffset, string> local) =>
        r.State switch
        {
            ReminderState.Pending =>
                $"waits: its ground must still stand on {(r.HoldUntil is { } hold ? Formatter.Metric.Day(hold) : "a later day")}",
            ReminderState.Muted => r.MutedBecause switch
            {
                MuteReason.OutOfWork => "silent: the horse is out of work",
                MuteReason.AwaitsVet => "silent: a caution was ended, and nobody has said that the vet cleared the horse",
                _ => "silent: something weightier is said of this horse",
            },
            ReminderState.PutOff =>
                $"put off until {(r.PutOffUntil is { } until ? Formatter.Metric.Day(until) : "a later day")}: {r.PutOffBecause}",
            ReminderState.Booked => $"booked for {(r.BookedFor is { } at ? local(at) : "a day")}",
            ReminderState.Done or ReminderState.Closed when r.ClearedAt is { } cleared =>
                $"cleared by the vet, as was said on {local(cleared)}",
            ReminderState.Done => r.ResolvedByVisit is not null ? "done by a visit"
            : r.ResolvedByWork is not null ? "done by work on the saddle"
            : "done, as somebody said",
            ReminderState.Closed => $"closed: {r.ClosedBecause}",
            ReminderState.Withdrawn => $"withdrawn: {r.ClosedBecause}",
            _ => $"open since {local(r.RaisedAt)}",
        };

    public static string Told(Reminder r, IReadOnlyDictionary<Guid, string> people, Func<DateTimeOffset, string> local)
    {
        var reached = r.Post.Where(l => l.Reached).ToList();
        if (reached.Count > 0)
            return string.Join(
                "; ",
                reached
                    .GroupBy(l => l.To)
                    .Select(g => $"{people.GetValueOrDefault(g.Key, "somebody")} on {local(g.Max(l => l.SentAt ?? l.OwedAt))}")
            );
        return r.Post.Count == 0 ? "nobody"
            : r.Post.All(l => l.Failed) ? "nobody: the letter did not get through"
            : "nobody yet: the letter waits";
    }

    public static string Answered(Reminder r, string? words, Func<DateTimeOffset, string> local)
    {
        if (r.Answer is not { } answer)
            return r.ToldAt is null ? "none asked for yet" : "none yet";
        var said = answer switch
        {
            Answer.Book => "asks for a visit",
            Answer.Later => "later",
            Answer.VetHasSeen => "the vet has seen the horse",
            _ => "not needed",
        };
        return $"{said}{(string.IsNullOrWhiteSpace(words) ? "" : $": “{words}”")}{(r.AnsweredAt is { } at ? $" ({local(at)})" : "")}";
    }

    public static string Fate(LetterTrail l, Func<DateTimeOffset, string> local) =>
        l.State switch
        {
            LetterState.Owed => "waits to leave",
            LetterState.Deferred => $"put off by the mail server, tried again: {l.Note}",
            LetterState.Sent when l.Note == Jobs.FolderTransport.Through =>
                $"laid down as a file{(l.SentAt is { } at ? $" on {local(at)}" : "")}",
            LetterState.Sent => $"taken by the mail server{(l.SentAt is { } at ? $" on {local(at)}" : "")}{Note(l)}",
            LetterState.Delivered => $"arrived{Note(l)}",
            LetterState.Bounced => $"came back: {l.Note}",
            _ => $"not sent: {l.Note}",
        };

    private static string Note(LetterTrail l) => string.IsNullOrWhiteSpace(l.Note) ? "" : $" ({l.Note})";
}
