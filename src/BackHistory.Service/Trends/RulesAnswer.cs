using BackHistory.Trends.Rules;

namespace BackHistory.Service.Trends;

public sealed record RulesAnswer(int RulesVersion, WatchRules Rules);
