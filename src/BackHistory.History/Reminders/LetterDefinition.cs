namespace BackHistory.History.Reminders;

/// <summary>What a kind of letter is, apart from its words.</summary>
/// <param name="Tells">The family of reminders whose finding it tells; it asks its reader for an answer.</param>
/// <param name="Else">Another family whose finding it tells as well.</param>
/// <param name="EndsWithReminder">Not needed once its reminder is over, and silent while its reminder is.</param>
/// <param name="SaysBooking">It says what became of a booking: the latest one to a reader counts.</param>
/// <param name="IsList">It is about many horses, for the practice's own staff, at the hour that they chose.</param>
public sealed record LetterDefinition(
    ReminderFamily? Tells = null,
    ReminderFamily? Else = null,
    bool EndsWithReminder = false,
    bool SaysBooking = false,
    bool IsList = false
)
{
    /// <summary>Whether it asks its reader for an answer.</summary>
    public bool AsksAnswer => Tells is not null;

    /// <summary>The rules of reminders that such a letter can be about.</summary>
    public IReadOnlyList<ReminderRule> Rules =>
        [.. Enum.GetValues<ReminderRule>().Where(r => Tells is null || Families.Of(r) == Tells || Families.Of(r) == Else)];

    /// <summary>One row a kind: a new kind is a name in <see cref="LetterKind"/> and a row here.</summary>
    public static LetterDefinition Of(LetterKind kind) =>
        kind switch
        {
            LetterKind.OwnerRefit => new(Tells: ReminderFamily.Shape, EndsWithReminder: true),
            LetterKind.OwnerCheck => new(Tells: ReminderFamily.Calendar, Else: ReminderFamily.Recheck, EndsWithReminder: true),
            LetterKind.VetCaution => new(Tells: ReminderFamily.Vet, EndsWithReminder: true),
            LetterKind.MeasureAgain => new(Tells: ReminderFamily.Again, EndsWithReminder: true),
            LetterKind.NoAnswer => new(EndsWithReminder: true),
            LetterKind.BookingMade or LetterKind.BookingCancelled => new(SaysBooking: true),
            LetterKind.ManagerDigest or LetterKind.FitterDay => new(IsList: true),
            LetterKind.GroundWithdrawn or LetterKind.VetNote => new(),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "no such letter"),
        };
}
