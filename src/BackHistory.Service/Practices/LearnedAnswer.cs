using BackHistory.Trends.Rules;

namespace BackHistory.Service.Practices;

/// <summary>What the practice's horses and hands have taught, with the version of the rules at which each was learned.</summary>
public sealed record LearnedAnswer(
    int RulesVersion,
    int? PriorsVersion,
    LearnedPriors? Priors,
    int? NoiseVersion,
    IReadOnlyList<LearnedLayers> Noise
);
