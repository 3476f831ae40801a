using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>The practice sets out to measure some horses again and again.</summary>
public sealed class BeginGuidedStudy(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Enter;

    /// <param name="Times">How often each station is traced at one visit.</param>
    public sealed record Input(Guid StudyId, string Method, int Horses, int Times);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state =>
                PracticeDecider.Decide(
                    state,
                    new BeginStudy(input.StudyId, input.Method, input.Horses, input.Times, by.Context.Actor),
                    by.Context.Now
                ),
            ct
        );
}
