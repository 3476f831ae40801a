using BackHistory.History;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>The parts of a saddle that can be adjusted, whole.</summary>
public sealed class ListSaddleParts(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, IReadOnlyList<SaddlePart> Parts, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Saddle>(
            context,
            given.SaddleId,
            saddle => SaddleDecider.Decide(saddle, new ListParts(given.Parts, given.From ?? context.Now, context.Actor), context.Now),
            ct
        );
    }
}
