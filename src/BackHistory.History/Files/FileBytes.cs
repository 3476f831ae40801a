using System.Security.Cryptography;

namespace BackHistory.History.Files;

/// <summary>A photograph or a document as it was sent in. Events name it by its hash; the bytes lie beside them and can be
/// erased.</summary>
public sealed class FileBytes
{
    /// <summary>A page scanned at 300 dpi and a telephone's photograph stay well below.</summary>
    public const int Most = 25 << 20;

    private FileBytes(ReadOnlyMemory<byte> bytes, string mediaType, string hash) => (Bytes, MediaType, Hash) = (bytes, mediaType, hash);

    public ReadOnlyMemory<byte> Bytes { get; }

    public string MediaType { get; }

    /// <summary>SHA-256, hexadecimal: the same bytes are kept once a practice.</summary>
    public string Hash { get; }

    public static string HashOf(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>A spreadsheet on its way in: it is read, never shown, and erased by itself even where the same bytes are attached
    /// somewhere.</summary>
    public static FileBytes Spreadsheet(Guid import, ReadOnlyMemory<byte> bytes) =>
        new(bytes, "application/octet-stream", HashOf([.. import.ToByteArray(), .. SHA256.HashData(bytes.Span)]));

    /// <summary>The bytes as a file of the kind that they are, whatever they were said to be.</summary>
    public static (FileBytes? File, Refused? Refused) From(ReadOnlyMemory<byte> bytes)
    {
        if (bytes.IsEmpty)
            return (null, new Refused("empty-file", "The file is empty. Nothing was saved."));
        if (bytes.Length > Most)
            return (null, new Refused("file-too-large", $"The file is larger than {Most >> 20} MB. Nothing was saved; send it smaller."));
        if (MediaTypes.MediaTypeOf(bytes.Span) is not { } type)
            return (
                null,
                new Refused("unknown-file", "Photographs (JPEG, PNG, WebP), PDF documents and plain text are taken. Nothing was saved.")
            );
        if (type.StartsWith("image/", StringComparison.Ordinal))
        {
            if (PictureSize.Read(bytes.Span, type) is not { } size)
                return (
                    null,
                    new Refused(
                        "damaged-picture",
                        "The picture is damaged: it does not say how large it is. Nothing was saved; take it from where it came from "
                            + "once more."
                    )
                );
            if (size.TooLarge)
            {
                var said = string.Create(
                    System.Globalization.CultureInfo.InvariantCulture,
                    $"The picture has {size.Width} × {size.Height} pixels; up to {PictureSize.MostPixels / 1_000_000} million are taken, "
                        + $"and {PictureSize.MostAside} along one side. Nothing was saved; send it smaller."
                );
                return (null, new Refused("picture-too-large", said));
            }
        }

        return (new FileBytes(bytes, type, HashOf(bytes.Span)), null);
    }

    /// <summary>The bytes of a file that was taken once, from an archive: what an earlier release took is not lost on the way
    /// back.</summary>
    /// <returns>Null where they are no kind of file that was ever taken.</returns>
    public static FileBytes? Again(ReadOnlyMemory<byte> bytes) =>
        !bytes.IsEmpty && bytes.Length <= Most && MediaTypes.MediaTypeOf(bytes.Span) is { } type
            ? new FileBytes(bytes, type, HashOf(bytes.Span))
            : null;
}
