using BackHistory.Trends.Rules;

namespace BackHistory.History.Reminders.Policy;

/// <summary>Says in a sentence why a horse stands as it does, in the language that it is kept in.</summary>
/// <param name="rules">Those that it was assessed by.</param>
public delegate string StateSentence(Assessment assessment, WatchRules rules);
