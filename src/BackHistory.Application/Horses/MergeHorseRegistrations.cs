using BackHistory.History;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Horses;

/// <summary>A horse was registered twice: the history of the second registration goes on in the one that stays.</summary>
public sealed class MergeHorseRegistrations(Merging merging, IChangeNotifier changes) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="HorseId">The second registration.</param>
    /// <param name="IntoId">The one that stays.</param>
    public sealed record Input(Guid HorseId, Guid IntoId, string Reason);

    /// <returns>The outcome for the registration that stays, or why nothing was done.</returns>
    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var outcome = await merging.Horses(by.Context, given.HorseId, given.IntoId, given.Reason, ct);
        if (outcome.Refused is null)
            changes.SomethingHappened(by.Context.Tenant);
        return outcome;
    }

    /// <summary>Goes on with merges that were interrupted half-way.</summary>
    public async Task Finish(string practice, DateTimeOffset now, CancellationToken ct)
    {
        if (await merging.FinishAll(practice, now, ct) > 0)
            changes.SomethingHappened(practice);
    }
}
