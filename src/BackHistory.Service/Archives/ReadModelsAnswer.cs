using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Archives;

/// <param name="Rebuild">The last one and how far it got; null where there was none.</param>
/// <param name="SetAside">What of this practice could not be worked out, oldest first.</param>
public sealed record ReadModelsAnswer(IReadOnlyList<ReadModelLag> Models, RebuildRun? Rebuild, IReadOnlyList<SetAside> SetAside);
