using BackHistory.History;
using BackHistory.History.Horses;

namespace BackHistory.Application.Visits;

/// <summary>When, by whom, how and under which conditions a visit was taken, put right with the reason.</summary>
public sealed class CorrectVisitDetails(NotifyingCommands commands) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="By">Who was there; whoever corrects it when null.</param>
    public sealed record Input(
        Guid HorseId,
        Guid VisitId,
        DateTimeOffset TakenAt,
        Guid? By,
        VisitConditions Conditions,
        string Method,
        string Reason
    );

    public Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        return commands.Execute<Horse>(
            context,
            given.HorseId,
            horse =>
                HorseDecider.Decide(
                    horse,
                    new CorrectVisit(
                        given.VisitId,
                        given.TakenAt,
                        given.By ?? context.Actor,
                        given.Conditions,
                        given.Method,
                        given.Reason,
                        context.Actor
                    ),
                    context.Now
                ),
            ct
        );
    }
}
