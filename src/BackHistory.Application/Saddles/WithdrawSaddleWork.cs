using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A piece of work was never done.</summary>
public sealed class WithdrawSaddleWork(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, Guid WorkId, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(context, given.SaddleId, saddle => Decide(saddle, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Saddle? saddle, Input given, Caller by) =>
        SaddleDecider.Decide(saddle, new WithdrawWork(given.WorkId, given.Reason, by.Context.Actor), by.Context.Now);
}
