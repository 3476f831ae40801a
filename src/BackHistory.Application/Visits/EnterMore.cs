using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>More of a visit that was entered before: readings, tracings by hand, out of drawings or out of meshes.</summary>
public sealed class EnterMore(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid HorseId, Guid VisitId, IReadOnlyList<VisitEntry> Entries);

    public Task<Outcome> Do(Input more, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var add = new AddEntries(more.VisitId, more.Entries, context.Actor);
        return commands.Execute<Horse>(context, more.HorseId, horse => Decide(horse, add, by), ct);
    }

    /// <inheritdoc cref="EnterVisit.Decide"/>
    internal static Decided Decide(Horse? horse, AddEntries more, Caller by) =>
        EnteredByApprentices.Mark(HorseDecider.Decide(horse, more, by.Context.Now), more.VisitId, by);
}
