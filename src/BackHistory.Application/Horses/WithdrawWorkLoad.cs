using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A span of work was entered by mistake.</summary>
public sealed class WithdrawWorkLoad(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid HorseId, Guid WorkId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse => HorseDecider.Decide(horse, new WithdrawWorkSpan(given.WorkId, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
