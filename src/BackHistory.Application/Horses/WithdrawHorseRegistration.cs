using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>The horse was registered by mistake.</summary>
public sealed class WithdrawHorseRegistration(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid HorseId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(context, given.HorseId, horse => Decide(horse, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Horse? horse, Input given, Caller by) =>
        HorseDecider.Decide(horse, new WithdrawHorse(given.Reason, by.Context.Actor), by.Context.Now);
}
