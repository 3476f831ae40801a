namespace BackHistory.History.Reminders;

/// <summary>One letter of a reminder and how far it got.</summary>
/// <param name="Note">How it went, or why it did not.</param>
public sealed record LetterTrail(
    Guid LetterId,
    LetterKind Kind,
    Guid To,
    LetterState State,
    DateTimeOffset OwedAt,
    DateTimeOffset? SentAt = null,
    string? Note = null
)
{
    /// <summary>Somebody has it, as far as is known.</summary>
    public bool Reached => State is LetterState.Sent or LetterState.Delivered;

    /// <summary>It will not reach anybody any more.</summary>
    public bool Failed => State is LetterState.GivenUp or LetterState.Bounced;
}
