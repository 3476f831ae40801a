using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>The saddle was registered by mistake.</summary>
public sealed class WithdrawSaddleRegistration(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid SaddleId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, new WithdrawSaddle(given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
