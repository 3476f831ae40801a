using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>A study counts no more.</summary>
public sealed class TakeBackStudy(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid StudyId, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state => PracticeDecider.Decide(state, new WithdrawStudy(input.StudyId, input.Reason, by.Context.Actor), by.Context.Now),
            ct
        );
}
