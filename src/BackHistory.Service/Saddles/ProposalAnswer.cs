namespace BackHistory.Service.Saddles;

/// <summary>What the tracings ask of a saddle.</summary>
/// <param name="StandsLeft">The mark at which it was left.</param>
/// <param name="SetLeft">The mark proposed; null where nothing is, or the gauge does not reach.</param>
/// <param name="Changes">For the tree and the panel, in degrees or millimetres and in marks, each with its standard deviation.</param>
/// <param name="Caution">Shown where the decision is taken.</param>
/// <param name="VetFirst">What a standing caution found: the horse goes to the vet before anything is changed. Null without one.</param>
public sealed record ProposalAnswer(
    Guid SaddleId,
    Guid HorseId,
    string? Gauge,
    Guid? BaselineVisit,
    Guid? LatestVisit,
    string Station,
    string Sentence,
    string? StandsLeft,
    string? StandsRight,
    string? SetLeft,
    string? SetRight,
    IReadOnlyList<ProposedChangeAnswer> Changes,
    IReadOnlyList<string> Unsaid,
    string Caution,
    string? VetFirst
);
