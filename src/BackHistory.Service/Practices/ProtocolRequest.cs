using BackHistory.History.Practices;

namespace BackHistory.Service.Practices;

public sealed record ProtocolRequest(IReadOnlyList<Station> Stations);
