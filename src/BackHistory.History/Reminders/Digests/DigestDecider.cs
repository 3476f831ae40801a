namespace BackHistory.History.Reminders.Digests;

/// <summary>Decides what follows from a command about a digest. Pure.</summary>
public static class DigestDecider
{
    public static Decided Owe(Digest? digest, DigestOwed owed) => digest is null ? Decided.Yes(owed) : Decided.Yes();

    public static Decided Decide(Digest? digest, NoteLetterSent c, DateTimeOffset now) =>
        digest is null ? ReminderRefusals.NoSuchLetter
        : Waiting(digest) ? Decided.Yes(new DigestSent(digest.Id, c.MessageId, c.Through, now, c.By))
        : Decided.Yes();

    public static Decided Decide(Digest? digest, GiveUpLetter c, DateTimeOffset now) =>
        digest is null ? ReminderRefusals.NoSuchLetter
        : Waiting(digest) ? Decided.Yes(new DigestGivenUp(digest.Id, c.Reason, now, c.By))
        : Decided.Yes();

    public static Decided Decide(Digest? digest, NoteDelivery c, DateTimeOffset now) =>
        digest is null ? ReminderRefusals.NoSuchLetter
        : Letter.Heeds(digest.State, c.Word) ? Decided.Yes(new DigestNoted(digest.Id, c.Word, c.Text, now, c.By))
        : Decided.Yes();

    private static bool Waiting(Digest digest) => digest.State is LetterState.Owed or LetterState.Deferred;
}
