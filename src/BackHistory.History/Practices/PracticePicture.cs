using System.Security.Cryptography;
using BackHistory.History.Files;

namespace BackHistory.History.Practices;

/// <summary>The picture of a practice, as it goes into letters and papers: written anew from what was sent in, so that it holds nothing but
/// the picture.</summary>
/// <param name="MediaType">image/png or image/jpeg.</param>
/// <param name="Width">Pixels.</param>
/// <param name="Height">Pixels.</param>
/// <param name="Hash">SHA-256 of the bytes, hexadecimal.</param>
public sealed record PracticePicture(byte[] Bytes, string MediaType, int Width, int Height, string Hash)
{
    /// <summary>It goes along with every letter: a mark of a practice stays well below.</summary>
    public const int MostBytes = 200 << 10;

    /// <summary>Pixels along one side: 16 MB once it is unpacked, and sharp at a hand's breadth.</summary>
    public const int MostAside = 2000;

    private static readonly Refused Damaged = new(
        "damaged-picture",
        "The picture is damaged or is none: nothing was saved. Save it anew as PNG or JPEG where it was drawn.",
        Place: "picture"
    );

    public static readonly Refused TooLarge = new(
        "picture-too-large",
        $"The picture may have {MostBytes >> 10} kB and {MostAside} pixels along a side. Nothing was saved; send it smaller.",
        Place: "picture"
    );

    private static readonly Refused OtherKind = new(
        "unknown-picture",
        "The picture is a PNG or a JPEG. Nothing was saved; save it as one of these.",
        Place: "picture"
    );

    private static readonly Refused Unusual = new(
        "unusual-picture",
        "This is a picture for the press (16 bits, interlaced, or in the four colours of ink), which mail programs do not show. Nothing "
            + "was saved; save it for the web.",
        Place: "picture"
    );

    /// <summary>Reads a picture that somebody sent in: as far as its last byte, within its limits, and nothing of it is carried
    /// out.</summary>
    public static (PracticePicture? Picture, Refused? Refused) From(ReadOnlyMemory<byte> sent)
    {
        if (sent.Length > MostBytes)
            return (null, TooLarge);
        var type = MediaTypes.MediaTypeOf(sent.Span);
        if (type is not ("image/png" or "image/jpeg"))
            return (null, OtherKind);
        if (PictureSize.Read(sent.Span, type) is not { } size)
            return (null, Damaged);
        if (size.Width > MostAside || size.Height > MostAside)
            return (null, TooLarge);
        try
        {
            var bytes = type == "image/png" ? PlainPng.Of(sent.Span, size) : PlainJpeg.Of(sent.Span);
            return (new PracticePicture(bytes, type, size.Width, size.Height, Convert.ToHexStringLower(SHA256.HashData(bytes))), null);
        }
        catch (NotSupportedException)
        {
            return (null, Unusual);
        }
        catch (InvalidDataException)
        {
            return (null, Damaged);
        }
    }

    /// <summary>Why a picture of an archive cannot be taken; null where it is what it says of itself.</summary>
    public Refused? Problem()
    {
        var (read, refused) = From(Bytes);
        var same = read is not null && read.Hash == Hash && read.Bytes.AsSpan().SequenceEqual(Bytes);
        return refused ?? (same && (read!.MediaType, read.Width, read.Height) == (MediaType, Width, Height) ? null : Damaged);
    }
}
