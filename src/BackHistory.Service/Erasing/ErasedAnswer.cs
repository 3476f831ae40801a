using BackHistory.Store.Erasing;

namespace BackHistory.Service.Erasing;

/// <param name="SignIn">Nobody signs in as this person here any more, or sees what they were let see. The account itself is its
/// owner's.</param>
/// <param name="Left">What was left, for somebody to look at, and why: words of others that name the person, ways in that were made for
/// them.</param>
/// <param name="StillFound">Where a name still stands as whole words, table by table: those of <c>left</c>, and for example the reason of
/// a correction.</param>
public sealed record ErasedAnswer(
    int Notes,
    int Comments,
    int Attachments,
    int Letters,
    int LetterFiles,
    bool SignIn,
    IReadOnlyList<LeftBehind> Left,
    IReadOnlyList<FoundIn> StillFound
);
