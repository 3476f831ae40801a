using BackHistory.Trends.Rules;

namespace BackHistory.Service.Practices;

/// <summary>The rules that stood at a version, with what was learned by then: old decisions name it.</summary>
public sealed record RulesAtVersion(int RulesVersion, int? PriorsVersion, int? NoiseVersion, WatchRules Rules);
