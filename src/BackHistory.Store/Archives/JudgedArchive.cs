namespace BackHistory.Store.Archives;

/// <summary>What the events of an archive say, once every one of them was found in its place.</summary>
/// <param name="Events">How many lines.</param>
/// <param name="Horses">Every registration.</param>
/// <param name="Letters">Every letter that was ever owed; whether it still is.</param>
/// <param name="Named">Every id that an event names.</param>
/// <param name="Files">The hashes of what was attached.</param>
/// <param name="Erased">Those whose data were erased.</param>
public sealed record JudgedArchive(
    long Events,
    IReadOnlySet<Guid> Horses,
    IReadOnlyDictionary<Guid, bool> Letters,
    IReadOnlySet<Guid> Named,
    IReadOnlySet<string> Files,
    IReadOnlySet<Guid> Erased
);
