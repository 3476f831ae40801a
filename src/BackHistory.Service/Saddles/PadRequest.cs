using BackHistory.History.Saddles;

namespace BackHistory.Service.Saddles;

public sealed record PadRequest(Guid HorseId, string Pad, IReadOnlyList<Shim>? Shims, DateTimeOffset? From);
