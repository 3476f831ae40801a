using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>All horses of a guided study are measured: from now on the practice is judged by its own hands.</summary>
public sealed class FinishGuidedStudy(PracticeWork practice, IBackgroundWork work) : IAct
{
    public static Right Needs => Right.Enter;

    public sealed record Input(Guid StudyId);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        var finish = new FinishStudy(input.StudyId, by.Context.Actor);
        var outcome = await practice.Decide(by.Context, state => PracticeDecider.Decide(state, finish, by.Context.Now), ct);
        // Repeated after a lost answer, the wish may have been lost too; learning twice under one key records once.
        if (outcome.Refused is null)
            work.Learn(by.Context.Tenant, by.Context.Actor, input.StudyId);
        return outcome;
    }
}
