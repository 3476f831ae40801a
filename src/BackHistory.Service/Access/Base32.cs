namespace BackHistory.Service.Access;

/// <summary>Base 32 (RFC 4648, section 6), as authenticator apps take their secrets.</summary>
internal static class Base32
{
    private const string Letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    /// <exception cref="FormatException">A letter is none of the alphabet's.</exception>
    public static byte[] Decode(string text)
    {
        var bytes = new List<byte>(text.Length * 5 / 8);
        int bits = 0,
            value = 0;
        foreach (var c in text.TrimEnd('=').ToUpperInvariant())
        {
            var digit = Letters.IndexOf(c, StringComparison.Ordinal);
            if (digit < 0)
                throw new FormatException("not base 32");
            value = ((value << 5) | digit) & 0xFFFF;
            bits += 5;
            if (bits < 8)
                continue;
            bits -= 8;
            bytes.Add((byte)(value >> bits));
        }

        return [.. bytes];
    }
}
