using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>The practice's name or time zone was wrong, or changed.</summary>
public sealed class CorrectPracticeDetails(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(string Name, string TimeZone, string Reason);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state =>
                PracticeDecider.Decide(
                    state,
                    new CorrectPractice(input.Name, input.TimeZone, input.Reason, by.Context.Actor),
                    by.Context.Now
                ),
            ct
        );
}
