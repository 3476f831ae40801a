namespace BackHistory.Store.Archives;

/// <summary>Up to where somebody has followed, and in which store: see <see cref="StoreIdentity"/>.</summary>
/// <param name="Store">Null of a cursor that an earlier release gave out.</param>
public readonly record struct ChangeCursor(string? Store, long Position);
