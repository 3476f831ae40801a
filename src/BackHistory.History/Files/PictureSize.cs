using System.Buffers.Binary;

namespace BackHistory.History.Files;

/// <summary>
/// How large a picture would be once it is unpacked, read from its header alone: nothing here unpacks one, and a few kilobytes can claim
/// gigabytes.
/// Sources: PNG (W3C, 11.2.1), JPEG (ITU-T T.81, annex B), WebP (RFC 9649, 2.5 to 2.7).
/// </summary>
internal readonly record struct PictureSize(int Width, int Height)
{
    /// <summary>Pixels along one side (rule of thumb); a page scanned at 600 dpi has 7 000.</summary>
    public const int MostAside = 30_000;

    /// <summary>Pixels in all (rule of thumb): 400 MB once it is unpacked. A telephone's photograph has 12 to 50 million.</summary>
    public const long MostPixels = 100_000_000;

    public bool TooLarge => Width > MostAside || Height > MostAside || (long)Width * Height > MostPixels;

    /// <returns>Null where the header says no size: such a picture is damaged, or made to look like one.</returns>
    public static PictureSize? Read(ReadOnlySpan<byte> bytes, string mediaType)
    {
        var size = mediaType switch
        {
            "image/png" => OfPng(bytes),
            "image/jpeg" => OfJpeg(bytes),
            "image/webp" => OfWebP(bytes),
            _ => null,
        };
        return size is { Width: > 0, Height: > 0 } ? size : null;
    }

    private static PictureSize? OfPng(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 33 || BinaryPrimitives.ReadUInt32BigEndian(bytes[8..]) != 13 || !bytes[12..].StartsWith("IHDR"u8))
            return null;
        return new PictureSize(
            Clamped(BinaryPrimitives.ReadUInt32BigEndian(bytes[16..])),
            Clamped(BinaryPrimitives.ReadUInt32BigEndian(bytes[20..]))
        );
    }

    /// <summary>The largest that any frame claims: a picture may hide a small one before the one that is shown.</summary>
    private static PictureSize? OfJpeg(ReadOnlySpan<byte> bytes)
    {
        PictureSize? largest = null;
        for (var at = 2; at + 4 <= bytes.Length; )
        {
            if (bytes[at] != 0xFF)
                return largest;
            var marker = bytes[at + 1];
            // Filling, and markers without a body.
            if (marker == 0xFF)
            {
                at++;
                continue;
            }
            if (marker is 0x01 or (>= 0xD0 and <= 0xD8))
            {
                at += 2;
                continue;
            }
            // The picture itself begins, or is over: what comes after is no header.
            if (marker is 0xDA or 0xD9)
                return largest;
            var length = BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (length < 2)
                return largest;
            if (marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC))
            {
                if (length < 8 || at + 9 > bytes.Length)
                    return largest;
                var frame = new PictureSize(
                    BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 7)..]),
                    BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 5)..])
                );
                if (largest is not { } l || (long)frame.Width * frame.Height > (long)l.Width * l.Height)
                    largest = frame;
            }

            at += 2 + length;
        }

        return largest;
    }

    private static PictureSize? OfWebP(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 30)
            return null;
        var kind = bytes[12..];
        if (kind.StartsWith("VP8X"u8))
            return new PictureSize(Int24(bytes[24..]) + 1, Int24(bytes[27..]) + 1);
        if (kind.StartsWith("VP8L"u8))
        {
            if (bytes[20] != 0x2F)
                return null;
            var bits = BinaryPrimitives.ReadUInt32LittleEndian(bytes[21..]);
            return new PictureSize((int)(bits & 0x3FFF) + 1, (int)((bits >> 14) & 0x3FFF) + 1);
        }

        if (!kind.StartsWith("VP8 "u8) || !bytes[23..].StartsWith((ReadOnlySpan<byte>)[0x9D, 0x01, 0x2A]))
            return null;
        return new PictureSize(
            BinaryPrimitives.ReadUInt16LittleEndian(bytes[26..]) & 0x3FFF,
            BinaryPrimitives.ReadUInt16LittleEndian(bytes[28..]) & 0x3FFF
        );
    }

    private static int Int24(ReadOnlySpan<byte> bytes) => bytes[0] | (bytes[1] << 8) | (bytes[2] << 16);

    private static int Clamped(uint value) => (int)Math.Min(value, int.MaxValue);
}
