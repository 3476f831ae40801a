using System.Diagnostics.CodeAnalysis;
using System.Globalization;
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

    /// <summary>RFC 1035, 2.3.4.</summary>
    private const int LongestLabel = 63;

    /// <summary>Of an encoded label (RFC 5890, 2.3.2.1).</summary>
    private const string Encoded = "xn--";

    /// <summary>Letters, digits and hyphens, once a name of another script is encoded.</summary>
    private static readonly IdnMapping Names = new() { UseStd3AsciiRules = true, AllowUnassigned = false };

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
        // What stands before the sign goes as it is, and most that pass it on take ASCII only; a domain of another script is encoded.
        if (!read.User.All(char.IsAscii) || DomainOf(read.Host) is not { } domain || read.User.Length + 1 + domain.Length > Longest)
            return false;
        // An encoded word (RFC 2047) is never an address.
        if (trimmed.Contains("=?", StringComparison.Ordinal))
            return false;
        address = new EmailAddress(trimmed);
        return true;
    }

    public override string ToString() => Value;

    /// <summary>The domain as it is looked up; null where it is none, or the name of one machine, which is nobody's mailbox.</summary>
    private static string? DomainOf(string host)
    {
        if (Uri.CheckHostName(host) != UriHostNameType.Dns)
            return null;
        try
        {
            var ascii = Names.GetAscii(host);
            var labels = ascii.Split('.');
            return labels.Length > 1 && labels.All(IsLabel) && !labels[^1].All(char.IsAsciiDigit) ? ascii : null;
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    /// <exception cref="ArgumentException">It says that it is encoded, and holds nothing that can be decoded.</exception>
    private static bool IsLabel(string label)
    {
        if (label.Length is 0 or > LongestLabel || label.StartsWith('-') || label.EndsWith('-'))
            return false;
        if (!label.All(c => char.IsAsciiLetterOrDigit(c) || c == '-'))
            return false;
        // Two hyphens there are kept for what is encoded (RFC 5891, 4.2.3.1).
        if (label.Length < 4 || label[2..4] != "--")
            return true;
        if (!label.StartsWith(Encoded, StringComparison.OrdinalIgnoreCase))
            return false;
        var plain = Names.GetUnicode(label);
        return !plain.All(char.IsAscii) && string.Equals(Names.GetAscii(plain), label, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>
    /// Letters and digits of any script, and what RFC 5322 calls atext. Quotes and comments are allowed by the standard, used by nobody
    /// and read differently by every program.
    /// </summary>
    private static bool Allowed(char c) => char.IsLetterOrDigit(c) || "@.!#$%&'*+-/=?^_`{|}~".Contains(c, StringComparison.Ordinal);
}
