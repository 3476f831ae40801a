namespace BackHistory.History.Reminders.Digests;

/// <summary>A letter about many horses as it stands.</summary>
public sealed partial record Digest : IFolded<Digest>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public LetterKind Kind { get; init; }

    public Guid To { get; init; }

    public DateOnly On { get; init; }

    public LetterState State { get; init; }

    /// <inheritdoc/>
    public static Digest? After(Digest? before, object e) =>
        (before, e) switch
        {
            (_, DigestOwed d) => From(d),
            (null, _) => null,
            ({ } known, DigestSent d) => known.Then(d),
            ({ } known, DigestGivenUp d) => known.Then(d),
            ({ } known, DigestNoted d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Digest), e),
        };

    private static Digest From(DigestOwed e) =>
        new()
        {
            Id = e.DigestId,
            Kind = e.Kind,
            To = e.To,
            On = e.On,
        };

    private Digest Then(DigestSent e) => this with { State = LetterState.Sent };

    private Digest Then(DigestGivenUp e) => this with { State = LetterState.GivenUp };

    private Digest Then(DigestNoted e) => this with { State = Letter.After(State, e.Word) };
}

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
