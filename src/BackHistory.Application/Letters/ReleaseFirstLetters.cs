using BackHistory.Application.Practices;
using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Letters;

/// <summary>Somebody has looked at the practice's first letters and lets them go.</summary>
public sealed class ReleaseFirstLetters(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public Task<Outcome> Do(Caller by, CancellationToken ct) =>
        practice.Decide(by.Context, state => PracticeDecider.Decide(state, new ReleaseLetters(by.Context.Actor), by.Context.Now), ct);
}
