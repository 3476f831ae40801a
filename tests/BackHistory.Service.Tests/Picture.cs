using System.Buffers.Binary;

namespace BackHistory.Service.Tests;

/// <summary>Pictures as far as their headers: what says how large they are, and whatever bytes behind it.</summary>
internal static class Picture
{
    public static byte[] Png(int width, int height, params ReadOnlySpan<byte> more)
    {
        var header = new byte[25];
        BinaryPrimitives.WriteInt32BigEndian(header, 13);
        "IHDR"u8.CopyTo(header.AsSpan(4));
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(8), width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(12), height);
        (header[16], header[17]) = (8, 6);
        return [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, .. header, .. more];
    }

    /// <summary>With a thumbnail's size in front, as telephones write it, and the picture's own in a progressive frame.</summary>
    public static byte[] Jpeg(int width, int height, params ReadOnlySpan<byte> more) =>
        [
            0xFF,
            0xD8,
            0xFF,
            0xE1,
            0,
            13,
            .. Frame(0xC0, 16, 16)[..11],
            0xFF,
            0xDB,
            0,
            3,
            0,
            0xFF,
            .. Frame(0xC2, width, height),
            0xFF,
            0xDA,
            0,
            2,
            .. more,
            0xFF,
            0xD9,
        ];

    public static byte[] WebP(string kind, int width, int height)
    {
        var chunk = new byte[18];
        System.Text.Encoding.ASCII.GetBytes(kind).CopyTo(chunk, 0);
        var body = chunk.AsSpan(8);
        switch (kind)
        {
            case "VP8X":
                Int24(body[4..], width - 1);
                Int24(body[7..], height - 1);
                break;
            case "VP8L":
                body[0] = 0x2F;
                BinaryPrimitives.WriteInt32LittleEndian(body[1..], (width - 1) | ((height - 1) << 14));
                break;
            default:
                ((ReadOnlySpan<byte>)[0x9D, 0x01, 0x2A]).CopyTo(body[3..]);
                BinaryPrimitives.WriteUInt16LittleEndian(body[6..], (ushort)width);
                BinaryPrimitives.WriteUInt16LittleEndian(body[8..], (ushort)height);
                break;
        }

        return [.. "RIFF"u8, 0, 0, 0, 0, .. "WEBP"u8, .. chunk];
    }

    private static byte[] Frame(byte marker, int width, int height) =>
        [0xFF, marker, 0, 11, 8, (byte)(height >> 8), (byte)height, (byte)(width >> 8), (byte)width, 1, 1, 0x11, 0];

    private static void Int24(Span<byte> at, int value) => (at[0], at[1], at[2]) = ((byte)value, (byte)(value >> 8), (byte)(value >> 16));
}
