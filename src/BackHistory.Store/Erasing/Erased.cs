namespace BackHistory.Store.Erasing;

/// <param name="Letters">Ids of letters to this person: where they lie outside the database they go too.</param>
/// <param name="About">Ids of invitations and accounts that are gone: letters about those were to this person.</param>
/// <param name="Names">What the person was called, for whoever looks elsewhere for it; not known any more when an erasure is asked for
/// again.</param>
/// <param name="Left">What was left, for somebody to look at, and why.</param>
/// <param name="StillFound">Where a name still stands as whole words in this practice, table by table; asked for again, as it was counted
/// when the name was still known.</param>
public sealed record Erased(
    int Notes,
    int Comments,
    int Attachments,
    IReadOnlyList<Guid> Letters,
    IReadOnlyList<Guid> About,
    bool SignIn,
    NameWords Names,
    IReadOnlyList<LeftBehind> Left,
    IReadOnlyList<FoundIn> StillFound
);
