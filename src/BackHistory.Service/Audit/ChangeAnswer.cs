using BackHistory.Language.Timeline;
using BackHistory.Store.Audit;

namespace BackHistory.Service.Audit;

/// <summary>One change as the interface and the page say it.</summary>
/// <param name="By">The person who gave the command; who measured can be another.</param>
/// <param name="What">The event's alias.</param>
public sealed record ChangeAnswer(long Sequence, DateTimeOffset At, Guid By, string What, Guid? HorseId, string Says)
{
    /// <summary>What has no line on a timeline is called by its alias, which reads like words already: <c>access_granted</c>.</summary>
    /// <param name="zone">The practice's.</param>
    public static ChangeAnswer From(Change c, TimeZoneInfo zone) =>
        new(c.Sequence, c.At, c.By, c.What, c.HorseId, c.Fact?.InWords(zone) ?? c.Alias.Replace('_', ' '));
}
