using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>What stands in its registration is put right, with the reason.</summary>
public sealed class DescribeSaddle(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    public sealed record Input(Guid SaddleId, SaddleDetails Details, string Reason);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, new CorrectSaddle(given.Details, given.Reason, context.Actor), context.Now),
            ct
        );
    }
}
