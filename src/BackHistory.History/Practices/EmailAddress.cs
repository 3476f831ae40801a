using System.Diagnostics.CodeAnalysis;
using System.Net.Mail;

namespace BackHistory.History.Practices;

/// <summary>
/// One mailbox, as <c>local@domain</c> (RFC 5322, addr-spec): no name around it, no list, no line breaks. One that is not valid is not
/// made, so that a letter to it can always be written.
/// </summary>
public readonly record struct EmailAddress
{
    /// <summary>RFC 5321, 4.5.3.1.3, as its erratum 1690 reads it.</summary>
    private const int Longest = 254;

    /// <summary>RFC 5321, 4.5.3.1.1.</summary>
    private const int LongestLocal = 64;

    private EmailAddress(string value) => Value = value;

    public string Value { get; }

    /// <summary>Reads an address with spaces around it cut off.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out EmailAddress address)
    {
        address = default;
        var trimmed = text?.Trim();
        if (trimmed is not { Length: > 2 and <= Longest } || !trimmed.All(Allowed))
            return false;
        if (
            !MailAddress.TryCreate(trimmed, out var read)
            || read.Address != trimmed
            || read.DisplayName.Length > 0
            || read.User.Length > LongestLocal
        )
            return false;
        // The framework lets dots stand where the standard does not (dot-atom: at neither end, and no two together).
        if (read.User.StartsWith('.') || read.User.EndsWith('.') || read.User.Contains("..", StringComparison.Ordinal))
            return false;
        if (read.Host.EndsWith('.') || Uri.CheckHostName(read.Host) != UriHostNameType.Dns)
            return false;
        // A name of one machine is nobody's mailbox, and an encoded word (RFC 2047) is never an address.
        if (!read.Host.Contains('.', StringComparison.Ordinal) || trimmed.Contains("=?", StringComparison.Ordinal))
            return false;
        address = new EmailAddress(trimmed);
        return true;
    }

    public override string ToString() => Value;

    /// <summary>
    /// Letters and digits of any script, and what RFC 5322 calls atext. Quotes and comments are allowed by the standard, used by nobody
    /// and read differently by every program.
    /// </summary>
    private static bool Allowed(char c) => char.IsLetterOrDigit(c) || "@.!#$%&'*+-/=?^_`{|}~".Contains(c, StringComparison.Ordinal);
}
