using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A saddle that the practice has not worked on before.</summary>
public sealed class EnterSaddle(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, SaddleDetails Details, Guid? OwnerId);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(context, given.SaddleId, saddle => Decide(saddle, given, by), ct);
    }

    /// <summary>The act's decision, for whoever carries out many in one transaction.</summary>
    internal static Decided Decide(Saddle? saddle, Input given, Caller by) =>
        SaddleDecider.Decide(saddle, new RegisterSaddle(given.SaddleId, given.Details, given.OwnerId, by.Context.Now, by.Context.Actor));
}
