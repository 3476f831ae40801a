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
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle =>
                SaddleDecider.Decide(saddle, new RegisterSaddle(given.SaddleId, given.Details, given.OwnerId, context.Now, context.Actor)),
            ct
        );
    }
}
