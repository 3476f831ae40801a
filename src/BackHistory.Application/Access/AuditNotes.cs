using BackHistory.History;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

internal static class AuditNotes
{
    /// <summary>Writes down what somebody of the practice changed about people and keys. Its id follows from the command.</summary>
    public static Task Note(
        this AuditBook book,
        Caller by,
        string what,
        Guid? about = null,
        string? detail = null,
        CancellationToken ct = default
    )
    {
        var c = by.Context;
        var id = DeterministicId.From("audit note", c.Tenant, c.Actor.ToString("N"), c.Key, what);
        return book.Note(c.Tenant, new AuditNote(id, c.Now, what, c.Actor, null) { About = about, Detail = detail }, ct);
    }
}
