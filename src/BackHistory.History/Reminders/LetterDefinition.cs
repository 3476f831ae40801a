namespace BackHistory.History.Reminders;

/// <summary>All that a kind of letter is, apart from its words: what it says, when it may leave, what it cannot do without.</summary>
public sealed record LetterDefinition(LetterKind Kind)
{
    private static readonly LetterPart[] Lists = [LetterPart.Week, LetterPart.Day];

    /// <summary>What it is made of, in this order.</summary>
    public required IReadOnlyList<LetterPart> Says { get; init; }

    /// <summary>What a practice's own words may leave out of it; its other links, lists and answers have to stand.</summary>
    public IReadOnlyList<LetterPart> MayLeaveOut { get; init; } = [];

    /// <summary>In every letter of this kind.</summary>
    public IReadOnlyList<LetterCaution> Cautions { get; init; } = [];

    /// <summary>The families of reminders whose finding it tells first.</summary>
    public IReadOnlyList<ReminderFamily> Tells { get; init; } = [];

    /// <summary>Not needed once its reminder is over, and silent while its reminder is.</summary>
    public bool EndsWithReminder { get; init; }

    /// <summary>Not needed once its reminder is answered.</summary>
    public bool EndsWithAnswer { get; init; }

    /// <summary>Not needed once nothing is booked.</summary>
    public bool EndsWithBooking { get; init; }

    public LetterHurry Hurry { get; init; }

    /// <summary>Whether it asks its reader for an answer.</summary>
    public bool AsksAnswer => Says.Contains(LetterPart.Answers);

    /// <summary>The answer that is hoped for: to a caution, that a veterinary surgeon has seen the horse.</summary>
    public Answer FirstAnswer => Tells.Contains(ReminderFamily.Vet) ? Answer.VetHasSeen : Answer.Book;

    /// <summary>Whether its reader sees the horse by a link of their own, under the letter's id.</summary>
    public bool SeesByLink { get; init; }

    /// <summary>To whoever of the practice goes or acts, about what a reader did.</summary>
    public bool ToPractice { get; init; }

    /// <summary>It says what became of a booking: the latest one to a reader counts.</summary>
    public bool SaysBooking => ToPractice || SetsCalendar;

    /// <summary>It puts the visit into its reader's calendar, or takes it out.</summary>
    public bool SetsCalendar => Says.Contains(LetterPart.Booking) || Says.Contains(LetterPart.BookingEnd);

    /// <summary>It tells the next person that nobody answered.</summary>
    public bool SaysSilence => Says.Contains(LetterPart.Silence);

    /// <summary>It is about many horses, for the practice's own staff, at the hour that they chose.</summary>
    public bool IsList => Says.Any(Lists.Contains);

    /// <summary>The rules of reminders that such a letter can be about.</summary>
    public IReadOnlyList<ReminderRule> Rules =>
        [.. Enum.GetValues<ReminderRule>().Where(r => Tells.Count == 0 || Tells.Contains(Families.FamilyOf(r)))];
}
