using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.People;

/// <summary>What the practice knows of a person, as somebody enters it.</summary>
/// <param name="Email">Without a name around it.</param>
/// <param name="Language"><c>en</c> or <c>de</c>; English when null.</param>
/// <param name="TimeZone">IANA; the practice's when null.</param>
public sealed record PersonDetails(
    string Name,
    string? Email,
    string? Phone,
    string? Address,
    PersonRole Role,
    string? Language,
    string? TimeZone
)
{
    private const int LongestName = 120;
    private const int LongestPhone = 40;
    private const int LongestAddress = 400;

    /// <summary>Why they cannot be kept; null when they can.</summary>
    internal Refused? Problem()
    {
        if (ReadableName.IsMissing(Name) || Name.Length > LongestName)
            return new Refused("no-name", "A person needs a name of up to 120 letters.", Place: "name");
        if (Email is { Length: > 0 } mail && !EmailAddress.TryParse(mail, out _))
            return new Refused("bad-email", "This is no e-mail address: write it without a name, as in anna@example.org.", Place: "email");
        if (Phone?.Length > LongestPhone)
            return new Refused("long-phone", $"A telephone number has up to {LongestPhone} letters.", Place: "phone");
        if (Address?.Length > LongestAddress)
            return new Refused("long-address", $"An address has up to {LongestAddress} letters.", Place: "address");
        if (!Enum.IsDefined(Role))
            return new Refused("unknown-role", "This is no role of a person.", Place: "role");
        if (Language is not null && !Languages.Shipped.Knows(Language))
            return new Refused("unknown-language", $"People are written to in {Languages.Shipped.Named}.", Place: "language");
        return TimeZone is { Length: > 0 } zone && !TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _)
            ? new Refused("unknown-time-zone", $"'{zone}' is no IANA time zone.", Place: "timeZone")
            : null;
    }

    /// <summary>Them, as they are kept.</summary>
    internal Person As(Guid id) => new(id, Name.Trim(), Email?.Trim(), Phone, Address, Role, Language ?? "en", TimeZone);
}
