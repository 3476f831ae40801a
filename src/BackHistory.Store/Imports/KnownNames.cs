using BackHistory.History.Practices;

namespace BackHistory.Store.Imports;

/// <summary>What the practice knows by name.</summary>
public sealed record KnownNames(
    IReadOnlyList<KnownHorse> Horses,
    IReadOnlyList<KnownSaddle> Saddles,
    IReadOnlyList<Person> People,
    IReadOnlyList<Yard> Yards
);
