using System.Text;

namespace BackHistory.History.Files;

/// <summary>What a file is, from its own bytes: a name or a header may say anything.</summary>
internal static class MediaTypes
{
    public static string? MediaTypeOf(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
            return "image/jpeg";
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]))
            return "image/png";
        if (bytes.Length > 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8))
            return "image/webp";
        if (bytes.StartsWith("%PDF-"u8))
            return "application/pdf";
        return IsText(bytes) ? "text/plain" : null;
    }

    /// <summary>UTF-8 without control characters other than those of lines and tables.</summary>
    private static bool IsText(ReadOnlySpan<byte> bytes)
    {
        foreach (var b in bytes)
        {
            if (b < 0x20 && b is not ((byte)'\n' or (byte)'\r' or (byte)'\t' or (byte)'\f'))
                return false;
        }

        try
        {
            new UTF8Encoding(false, throwOnInvalidBytes: true).GetCharCount(bytes);
            return true;
        }
        catch (DecoderFallbackException)
        {
            return false;
        }
    }
}
