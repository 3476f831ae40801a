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
        return commands.Execute<Saddle>(context, given.SaddleId, saddle => Decide(saddle, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Saddle? saddle, Input given, Caller by) =>
        SaddleDecider.Decide(saddle, new WithdrawSaddle(given.Reason, by.Context.Actor), by.Context.Now);
}
