using System.Text.Json.Serialization;

namespace BackHistory.History.Reminders.Digests;

/// <summary>
/// The life of one letter that is about many horses: the manager's digest of a week, a fitter's list of a day. Its stored names are
/// <c>bulletin…</c>, which it was called when the first ones were written.
/// </summary>
public interface IDigestEvent : IHappened
{
    /// <summary>The stream's id, and the letter's.</summary>
    Guid DigestId { get; }
}

/// <summary>A letter about many horses is owed: the intent, before anything is sent.</summary>
/// <param name="To">The person's id.</param>
/// <param name="On">The day, or the first day of the week, that it is about.</param>
public sealed record DigestOwed(
    [property: JsonPropertyName("bulletinId")] Guid DigestId,
    LetterKind Kind,
    Guid To,
    DateOnly On,
    DateTimeOffset TakenAt,
    Guid By
) : IDigestEvent;

/// <summary>The letter about many horses went out.</summary>
public sealed record DigestSent(
    [property: JsonPropertyName("bulletinId")] Guid DigestId,
    string MessageId,
    string Through,
    DateTimeOffset TakenAt,
    Guid By
) : IDigestEvent;

/// <summary>The letter about many horses cannot be sent.</summary>
public sealed record DigestGivenUp([property: JsonPropertyName("bulletinId")] Guid DigestId, string Reason, DateTimeOffset TakenAt, Guid By)
    : IDigestEvent;

/// <summary>What a mail server answered or reported about it.</summary>
public sealed record DigestNoted(
    [property: JsonPropertyName("bulletinId")] Guid DigestId,
    DeliveryWord Word,
    string Text,
    DateTimeOffset TakenAt,
    Guid By
) : IDigestEvent;
