using System.Security.Cryptography;
using System.Text;

namespace BackHistory.History;

/// <summary>Ids that follow from what they name, so that doing a thing twice cannot make two of it.</summary>
public static class DeterministicId
{
    /// <summary>A name-based UUID of version 8 (RFC 9562, section 5.8) from SHA-256 over the parts, in order.</summary>
    public static Guid From(params ReadOnlySpan<string> parts)
    {
        var text = new StringBuilder();
        foreach (var part in parts)
            text.Append(part.Length).Append(':').Append(part);
        var bytes = SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())).AsSpan(0, 16);
        bytes[6] = (byte)((bytes[6] & 0x0F) | 0x80);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes, bigEndian: true);
    }
}
