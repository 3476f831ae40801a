using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>How the practice is reached, as somebody enters it.</summary>
/// <param name="Address">In one line, as it is to stand on letters and papers.</param>
/// <param name="ReplyTo">Where answers to letters go: one address, without a name around it.</param>
public sealed record ContactDetails(string? Address, string? Phone, string? ReplyTo)
{
    public const int LongestAddress = 200;
    public const int LongestPhone = 40;

    /// <summary>Why it cannot be kept; null when it can.</summary>
    internal Refused? Problem() =>
        Address?.Length > LongestAddress ? new Refused("long-address", $"An address has up to {LongestAddress} letters.", Place: "address")
        : Phone?.Length > LongestPhone ? new Refused("long-phone", $"A telephone number has up to {LongestPhone} letters.", Place: "phone")
        : Address?.Any(char.IsControl) == true ? new Refused("long-address", "An address is one line.", Place: "address")
        : Phone?.Any(char.IsControl) == true ? new Refused("long-phone", "A telephone number is one line.", Place: "phone")
        : ReplyTo is { Length: > 0 } mail && !EmailAddress.TryParse(mail, out _)
            ? new Refused("bad-email", "This is no e-mail address: write it without a name, as in office@example.org.", Place: "replyTo")
        : null;
}
