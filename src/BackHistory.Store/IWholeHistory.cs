using Marten;

namespace BackHistory.Store;

/// <summary>
/// The history of all practices, as the owner sees it: for the schema, the daemon, progress, accounts and the list of practices.
/// Whatever serves one practice takes <see cref="IDocumentStore"/> instead, which stands under tenant isolation.
/// </summary>
public interface IWholeHistory : IDocumentStore;
