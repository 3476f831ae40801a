using BackHistory.Trends.Rules;

namespace BackHistory.Service.Verbs;

/// <summary>What <c>learn</c> answers and <c>decide</c> takes back.</summary>
/// <param name="Movement">How the practice's horses move; null = too few to teach.</param>
/// <param name="Hands">How its hands err; null = nothing was repeated.</param>
internal sealed record LearnedByLines(LearnedPriors? Movement = null, LearnedNoise? Hands = null);
