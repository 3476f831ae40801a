using BackHistory.History;
using BackHistory.Store.Audit;

namespace BackHistory.Store;

/// <summary>What becomes of a document that lies beside the events.</summary>
public sealed record DecidedDocument<T>
    where T : class
{
    /// <param name="document">As it is to be kept; the same again leaves it as it is.</param>
    /// <param name="note">What is written down of it, without what it says; null of what changed nothing.</param>
    public DecidedDocument(T document, AuditNote? note) => (Document, Note) = (document, note);

    /// <param name="refused">Why nothing is kept.</param>
    public DecidedDocument(Refused refused) => Refused = refused;

    public T? Document { get; }

    public Refused? Refused { get; }

    public AuditNote? Note { get; }
}
