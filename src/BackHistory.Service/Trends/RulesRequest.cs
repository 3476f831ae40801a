using BackHistory.Trends.Rules;

namespace BackHistory.Service.Trends;

/// <summary>The practice's watch rules, whole, with the reason of the change.</summary>
public sealed record RulesRequest(WatchRules Rules, string Reason);
