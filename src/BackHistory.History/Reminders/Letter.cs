namespace BackHistory.History.Reminders;

/// <summary>A letter that is owed to somebody, and how far it got. Kept up in the same transaction as its reminder, so that none is
/// forgotten.</summary>
public sealed partial record Letter
{
    /// <summary>What <see cref="Through"/> says of a letter that was put into a folder.</summary>
    public const string AsFile = "folder";

    public Guid Id { get; init; }

    /// <summary>Null for a letter about many horses: its own id is its stream's then.</summary>
    public Guid? ReminderId { get; init; }

    public Guid? HorseId { get; init; }

    /// <summary>The day or week of a letter about many horses.</summary>
    public DateOnly? On { get; init; }

    public LetterKind Kind { get; init; }

    public Guid To { get; init; }

    public LetterState State { get; init; }

    public DateTimeOffset OwedAt { get; init; }

    public DateTimeOffset? SentAt { get; init; }

    public string? MessageId { get; init; }

    /// <summary>How it went out: the mail server's name, or the folder; or why it could not.</summary>
    public string? Through { get; init; }

    /// <summary>Reports come late, twice and out of order: what is known better already is not unlearned.</summary>
    internal static bool Heeds(LetterState state, DeliveryWord word) =>
        (word, state) switch
        {
            (DeliveryWord.Deferred, LetterState.Owed or LetterState.Deferred) => true,
            (DeliveryWord.Delayed or DeliveryWord.Delivered, LetterState.Sent) => true,
            (DeliveryWord.Bounced, not (LetterState.Bounced or LetterState.GivenUp)) => true,
            _ => false,
        };

    internal static LetterState After(LetterState state, DeliveryWord word) =>
        word switch
        {
            DeliveryWord.Deferred => LetterState.Deferred,
            DeliveryWord.Delivered => LetterState.Delivered,
            DeliveryWord.Bounced => LetterState.Bounced,
            // It has left, and the server that has it goes on trying.
            DeliveryWord.Delayed => state,
            _ => throw new ArgumentOutOfRangeException(nameof(word), word, "a word that means nothing for a letter"),
        };
}
