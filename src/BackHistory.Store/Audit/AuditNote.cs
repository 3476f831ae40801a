using System.Text.Json.Serialization;

namespace BackHistory.Store.Audit;

/// <summary>
/// That somebody saw something, or was turned away. What was changed stands in the events; this is what no event says. Ids only: names
/// live in documents that can be erased.
/// </summary>
/// <param name="What">One of <see cref="AuditWords"/>.</param>
/// <param name="PersonId">Who, where it is known.</param>
public sealed record AuditNote(
    Guid Id,
    [property: JsonConverter(typeof(ColumnTimeConverter))] DateTimeOffset At,
    string What,
    Guid? PersonId,
    Guid? HorseId
)
{
    /// <summary>By which link; see Sharing.</summary>
    public Guid? LinkId { get; init; }

    /// <summary>By which grant; see Sharing.</summary>
    public Guid? GrantId { get; init; }

    /// <summary>The person whom it was about: whose role was changed, who was invited.</summary>
    public Guid? About { get; init; }

    /// <summary>More in words, for example the device or why somebody was turned away. Nobody's personal data.</summary>
    public string? Detail { get; init; }
}
