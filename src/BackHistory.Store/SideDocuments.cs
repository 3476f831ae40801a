using BackHistory.History.Files;
using Marten;

namespace BackHistory.Store;

/// <summary>Saves what stands beside events: documents as Marten keeps them, files in parts.</summary>
internal static class SideDocuments
{
    public static void Save(IDocumentSession session, IReadOnlyList<object> beside)
    {
        foreach (var file in beside.OfType<FileBytes>())
            FileTable.Queue(session, file);
        session.StoreObjects(beside.Where(d => d is not FileBytes));
    }
}
