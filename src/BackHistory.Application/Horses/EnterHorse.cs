using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A horse that the practice has not looked after before.</summary>
public sealed class EnterHorse(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, HorseDetails Details, Guid? OwnerId, Guid? YardId);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(context, given.HorseId, horse => Decide(horse, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Horse? horse, Input given, Caller by)
    {
        var (now, actor) = (by.Context.Now, by.Context.Actor);
        return HorseDecider.Decide(horse, new RegisterHorse(given.HorseId, given.Details, given.OwnerId, given.YardId, now, actor), now);
    }
}
