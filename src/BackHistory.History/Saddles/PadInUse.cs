namespace BackHistory.History.Saddles;

public sealed record PadInUse(
    Guid PadId,
    Guid HorseId,
    string Pad,
    IReadOnlyList<Shim> Shims,
    DateTimeOffset From,
    DateTimeOffset? Until = null
);
