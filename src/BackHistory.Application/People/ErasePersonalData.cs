using BackHistory.History;
using BackHistory.Store.Erasing;
using BackHistory.Store.Imports;

namespace BackHistory.Application.People;

/// <summary>What is known of a person is erased, here and where letters lie as files; horses, shapes and what was done stay, by an id
/// that means nothing any more.</summary>
public sealed class ErasePersonalData(Erasure erasure, ImportStore imports, ILetterFiles files) : IAct
{
    // One's own sign-in would end in the middle of it, and a practice without an administrator is nobody's.
    private static readonly Refused NotOneself = new("not-oneself", "Another administrator must erase you.", RefusalKind.Conflict);

    public static Right Needs => Right.Administer;

    public sealed record Input(Guid PersonId);

    /// <param name="LetterFiles">How many letters were erased as files.</param>
    public sealed record Done(Erased Erased, int LetterFiles);

    public async Task<(Done? Done, Refused? Refused)> Do(Input input, Caller by, CancellationToken ct)
    {
        if (input.PersonId == by.Context.Actor)
            return (null, NotOneself);
        var (erased, no) = await erasure.Erase(
            by.Context,
            input.PersonId,
            (names, stop) => WaitingTables.Naming(imports, by.Context.Tenant, names, stop),
            ct
        );
        if (no is not null)
            return (null, no);
        var letters = files.Erase(erased!.Letters, erased.About);
        return (new Done(erased, letters), null);
    }
}
