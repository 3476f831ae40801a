using System.Buffers.Binary;

namespace BackHistory.History.Files;

/// <summary>
/// A JPEG as mail programs and papers take it, written anew from its tables and its scans: where it was taken, by what, and whatever else
/// was in the file is left behind. Sources: ITU-T T.81, annex B; the head that is put before it, ITU-T T.871 (JFIF).
/// </summary>
internal static class PlainJpeg
{
    private static ReadOnlySpan<byte> Head =>
        [0xFF, 0xD8, 0xFF, 0xE0, 0, 16, (byte)'J', (byte)'F', (byte)'I', (byte)'F', 0, 1, 2, 0, 0, 1, 0, 1, 0, 0];

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    /// <exception cref="NotSupportedException">In the four colours of ink, or packed as only the press unpacks it.</exception>
    public static byte[] Of(ReadOnlySpan<byte> sent)
    {
        var written = new MemoryStream();
        written.Write(Head);
        var (frames, scans) = (0, 0);
        for (var at = 2; ; )
        {
            if (sent.Length - at < 2 || sent[at] != 0xFF)
                throw new InvalidDataException("it ends in the middle");
            var marker = sent[at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }

            if (marker == 0xD9)
                break;
            var segment = Segment(sent, at);
            at += segment.Length;
            switch (marker)
            {
                case 0xC0 or 0xC1 or 0xC2:
                    frames += Frame(segment);
                    written.Write(segment);
                    break;
                case 0xC4 or 0xDB or 0xDD:
                    written.Write(segment);
                    break;
                case 0xDA:
                    var scan = Scan(sent[at..]);
                    written.Write(segment);
                    written.Write(sent.Slice(at, scan));
                    at += scan;
                    scans++;
                    break;
                case >= 0xC0 and <= 0xCF:
                    throw new NotSupportedException("arithmetic or lossless");
            }
        }

        if (frames != 1 || scans == 0)
            throw new InvalidDataException("no picture is in it");
        written.Write([0xFF, 0xD9]);
        return written.ToArray();
    }

    private static ReadOnlySpan<byte> Segment(ReadOnlySpan<byte> sent, int at)
    {
        var length = sent.Length - at < 4 ? 0 : BinaryPrimitives.ReadUInt16BigEndian(sent[(at + 2)..]);
        if (length < 2 || at + 2 + length > sent.Length)
            throw new InvalidDataException("a part is longer than the file");
        return sent.Slice(at, 2 + length);
    }

    private static int Frame(ReadOnlySpan<byte> segment)
    {
        if (segment.Length < 10)
            throw new InvalidDataException("its size is cut off");
        if (segment[4] != 8 || segment[9] is not (1 or 3))
            throw new NotSupportedException("more than 8 bits, or four colours");
        return 1;
    }

    /// <summary>How far the packed picture goes: as far as a marker that is none of its own.</summary>
    private static int Scan(ReadOnlySpan<byte> rest)
    {
        for (var i = 0; i + 1 < rest.Length; i++)
        {
            if (rest[i] == 0xFF && rest[i + 1] is not (0 or 0xFF or (>= 0xD0 and <= 0xD7)))
                return i;
        }

        throw new InvalidDataException("it ends in the middle");
    }
}
