using BackHistory.History.Saddles;

namespace BackHistory.History.Profiles;

public sealed record PadUnder(Guid SaddleId, Guid PadId, string Pad, IReadOnlyList<Shim> Shims, DateTimeOffset From);
