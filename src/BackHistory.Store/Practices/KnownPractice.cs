namespace BackHistory.Store.Practices;

/// <summary>That a practice exists, for those who serve all of them: the schedule of jobs.</summary>
/// <param name="Id">The tenant.</param>
public sealed record KnownPractice(string Id, string Name, string TimeZone);
