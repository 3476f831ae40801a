namespace BackHistory.History.Files;

/// <summary>A file on a horse or a saddle: the event holds its hash, not its bytes.</summary>
/// <param name="ContentHash">SHA-256 of the bytes, hexadecimal.</param>
/// <param name="Length">Bytes.</param>
/// <param name="Shows">The people who can be seen or read in it, so that it goes when they ask to be erased.</param>
public sealed record AttachedFile(Guid FileId, FileKind Kind, string ContentHash, string MediaType, long Length, IReadOnlyList<Guid> Shows);
