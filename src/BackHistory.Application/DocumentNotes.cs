using BackHistory.History;
using BackHistory.Store.Audit;

namespace BackHistory.Application;

/// <summary>What is written down of a change to a person, a yard or a calendar address: who, when, and which details; never what they
/// say, because that must be erasable.</summary>
internal static class DocumentNotes
{
    /// <param name="about">The person or the thing.</param>
    /// <param name="details">Names of the details that are others now.</param>
    public static AuditNote Note(this Caller by, string what, Guid about, IEnumerable<string> details)
    {
        var c = by.Context;
        var id = DeterministicId.From("audit note", c.Tenant, c.Actor.ToString("N"), c.Key, what);
        var named = string.Join(", ", details);
        return new AuditNote(id, c.Now, what, c.Actor, null) { About = about, Detail = named.Length == 0 ? null : named };
    }
}
