using BackHistory.Store;
using BackHistory.Store.Accounts;

namespace BackHistory.Application;

/// <summary>Who asks for an act, as a door knows it.</summary>
/// <param name="Context">The practice, the person, the time, and what makes the act the same when it is asked for twice.</param>
/// <param name="Role">What they are in that practice.</param>
public sealed record Caller(CommandContext Context, PracticeRole Role);
