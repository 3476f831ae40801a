namespace BackHistory.History.Reminders;

/// <summary>A letter about many horses as it stands.</summary>
public sealed partial record Bulletin : IFolded<Bulletin>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public LetterKind Kind { get; init; }

    public Guid To { get; init; }

    public DateOnly On { get; init; }

    public LetterState State { get; init; }

    /// <inheritdoc/>
    public static Bulletin? After(Bulletin? before, object e) =>
        (before, e) switch
        {
            (_, BulletinOwed d) => From(d),
            (null, _) => null,
            ({ } known, BulletinSent d) => known.Then(d),
            ({ } known, BulletinGivenUp d) => known.Then(d),
            ({ } known, BulletinNoted d) => known.Then(d),
            _ => throw UnknownEventException.Of(e, nameof(Bulletin)),
        };

    private static Bulletin From(BulletinOwed e) =>
        new()
        {
            Id = e.BulletinId,
            Kind = e.Kind,
            To = e.To,
            On = e.On,
        };

    private Bulletin Then(BulletinSent e) => this with { State = LetterState.Sent };

    private Bulletin Then(BulletinGivenUp e) => this with { State = LetterState.GivenUp };

    private Bulletin Then(BulletinNoted e) => this with { State = Letter.After(State, e.Word) };
}

/// <summary>Decides what follows from a command about a bulletin. Pure.</summary>
public static class BulletinDecider
{
    public static Decided Owe(Bulletin? bulletin, BulletinOwed owed) => bulletin is null ? Decided.Yes(owed) : Decided.Yes();

    public static Decided Decide(Bulletin? bulletin, NoteLetterSent c, DateTimeOffset now) =>
        bulletin is null ? ReminderRefusals.NoSuchLetter
        : Waiting(bulletin) ? Decided.Yes(new BulletinSent(bulletin.Id, c.MessageId, c.Through, now, c.By))
        : Decided.Yes();

    public static Decided Decide(Bulletin? bulletin, GiveUpLetter c, DateTimeOffset now) =>
        bulletin is null ? ReminderRefusals.NoSuchLetter
        : Waiting(bulletin) ? Decided.Yes(new BulletinGivenUp(bulletin.Id, c.Reason, now, c.By))
        : Decided.Yes();

    public static Decided Decide(Bulletin? bulletin, NoteDelivery c, DateTimeOffset now) =>
        bulletin is null ? ReminderRefusals.NoSuchLetter
        : Letter.Heeds(bulletin.State, c.Word) ? Decided.Yes(new BulletinNoted(bulletin.Id, c.Word, c.Text, now, c.By))
        : Decided.Yes();

    private static bool Waiting(Bulletin bulletin) => bulletin.State is LetterState.Owed or LetterState.Deferred;
}
