using BackHistory.Application.Saddles;
using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Service.Saddles;

/// <param name="Kind">set, altered or flocked.</param>
/// <param name="VisitId">The visit whose shape it was made to.</param>
/// <param name="Fresh">A new saddle, or one that was re-flocked.</param>
/// <param name="Flocking">With what it was flocked, wholly or in places; only where it was.</param>
/// <param name="OnBoth">It stays in use on the other horse, where it is on one; refused otherwise.</param>
public sealed record WorkRequest(
    string Kind,
    Guid HorseId,
    Guid? VisitId,
    DateTimeOffset TakenAt,
    Guid? By,
    bool Fresh,
    IReadOnlyList<Adjustment>? Done,
    Flocking? Flocking = null,
    bool OnBoth = false
)
{
    internal Refused? Problem() =>
        Kind is not ("set" or "altered" or "flocked") ? new Refused("unknown-kind", "A saddle was set, altered or flocked.", Place: "kind")
        : Kind == "flocked" != Flocking is not null
            ? new Refused("no-material", "Flocking names its material; other work has none.", Place: "flocking")
        : null;

    internal WorkDone Work(Guid workId) => new(workId, HorseId, VisitId, Kind == "set", Fresh, Done ?? [], TakenAt, By, Flocking, OnBoth);
}
