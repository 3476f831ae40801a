using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Saddles;

namespace BackHistory.Application.Saddles;

/// <summary>A pad, with its shims, is used under a saddle.</summary>
public sealed class FitSaddlePad(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="From">Since when; now, where nothing is said.</param>
    public sealed record Input(Guid SaddleId, Guid PadId, Guid HorseId, string Pad, IReadOnlyList<Shim> Shims, DateTimeOffset? From);

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.ExecuteHolding<Saddle>(
            context,
            given.SaddleId,
            async held =>
            {
                var horse = await held.Stream<Horse>(given.HorseId);
                return saddle =>
                    SaddleDecider.Decide(
                        saddle,
                        new FitPad(given.PadId, given.HorseId, given.Pad, given.Shims, given.From ?? context.Now, context.Actor),
                        horse,
                        context.Now
                    );
            },
            ct
        );
    }
}
