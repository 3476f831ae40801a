using System.Buffers.Binary;
using System.IO.Compression;

namespace BackHistory.History.Files;

/// <summary>
/// A PNG as mail programs and papers take it, written anew from its pixels' own parts: what else was in the file is left behind, and what
/// it unpacks to is counted to the byte. Source: PNG (W3C, third edition), 5, 7, 9, 11.
/// </summary>
internal static class PlainPng
{
    private const int Before = 8;

    /// <summary>Length, name and check of a part.</summary>
    private const int Around = 12;

    private static readonly uint[] Table = [.. Enumerable.Range(0, 256).Select(Entry)];

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    /// <exception cref="NotSupportedException">16 bits a sample, or interlaced.</exception>
    public static byte[] Of(ReadOnlySpan<byte> sent, PictureSize size)
    {
        var written = new MemoryStream();
        written.Write(sent[..Before]);
        var packed = new MemoryStream();
        var colours = -1;
        for (var at = Before; ; )
        {
            if (sent.Length - at < Around)
                throw new InvalidDataException("it ends in the middle");
            var length = BinaryPrimitives.ReadUInt32BigEndian(sent[at..]);
            if (length > sent.Length - at - Around)
                throw new InvalidDataException("a part is longer than the file");
            var part = sent.Slice(at, Around + (int)length);
            var name = part[4..8];
            if (BinaryPrimitives.ReadUInt32BigEndian(part[^4..]) != Check(part[4..^4]))
                throw new InvalidDataException("a part's check is wrong");
            at += part.Length;
            if (name.SequenceEqual("PLTE"u8))
                colours = (int)length;
            if (name.SequenceEqual("IDAT"u8))
                packed.Write(part[8..^4]);
            if (
                name.SequenceEqual("IHDR"u8)
                || name.SequenceEqual("PLTE"u8)
                || name.SequenceEqual("tRNS"u8)
                || name.SequenceEqual("IDAT"u8)
            )
                written.Write(part);
            if (name.SequenceEqual("IEND"u8))
            {
                written.Write(part);
                break;
            }
        }

        Unpack(packed, sent, size, colours);
        return written.ToArray();
    }

    /// <summary>Every line of the picture, no more and no less.</summary>
    private static void Unpack(MemoryStream packed, ReadOnlySpan<byte> sent, PictureSize size, int colours)
    {
        var (bits, kind, interlaced) = (sent[24], sent[25], sent[28] != 0);
        if (bits == 16 || interlaced)
            throw new NotSupportedException("16 bits, or interlaced");
        var samples = (kind, bits) switch
        {
            (0, 1 or 2 or 4 or 8) => 1,
            (3, 1 or 2 or 4 or 8) when colours is > 0 and <= 768 && colours % 3 == 0 => 1,
            (2, 8) => 3,
            (4, 8) => 2,
            (6, 8) => 4,
            _ => throw new InvalidDataException("no such kind of PNG"),
        };
        var line = new byte[1 + (((size.Width * samples * bits) + 7) / 8)];
        packed.Position = 0;
        using var pixels = new ZLibStream(packed, CompressionMode.Decompress);
        for (var y = 0; y < size.Height; y++)
        {
            if (pixels.ReadAtLeast(line, line.Length, throwOnEndOfStream: false) < line.Length || line[0] > 4)
                throw new InvalidDataException("a line is missing");
        }

        if (pixels.ReadByte() >= 0)
            throw new InvalidDataException("it has more lines than it says");
    }

    /// <summary>The cyclic redundancy code of annex D.</summary>
    private static uint Check(ReadOnlySpan<byte> bytes)
    {
        var check = uint.MaxValue;
        foreach (var b in bytes)
            check = Table[(byte)(check ^ b)] ^ (check >> 8);
        return ~check;
    }

    private static uint Entry(int of)
    {
        var entry = (uint)of;
        for (var i = 0; i < 8; i++)
            entry = (entry & 1) != 0 ? 0xEDB88320 ^ (entry >> 1) : entry >> 1;
        return entry;
    }
}
