using System.Security.Cryptography;

namespace BackHistory.History.Files;

/// <summary>A photograph or a document as it was sent in. Events name it by its hash; the bytes lie beside them and can be erased.</summary>
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

    /// <summary>A spreadsheet on its way in: it is read, never shown, and erased by itself even where the same bytes are attached somewhere.</summary>
    public static FileBytes Spreadsheet(Guid import, ReadOnlyMemory<byte> bytes) =>
        new(bytes, "application/octet-stream", HashOf([.. import.ToByteArray(), .. SHA256.HashData(bytes.Span)]));

    /// <summary>The bytes as a file of the kind that they are, whatever they were said to be.</summary>
    public static (FileBytes? File, Refused? Refused) Of(ReadOnlyMemory<byte> bytes)
    {
        if (bytes.IsEmpty) return (null, new Refused("empty-file", "The file is empty. Nothing was saved."));
        if (bytes.Length > Most) return (null, new Refused("file-too-large", $"The file is larger than {Most >> 20} MB. Nothing was saved; send it smaller."));
        return MediaTypes.Of(bytes.Span) is { } type
            ? (new FileBytes(bytes, type, HashOf(bytes.Span)), null)
            : (null, new Refused("unknown-file", "Photographs (JPEG, PNG, WebP), PDF documents and plain text are taken. Nothing was saved."));
    }
}
