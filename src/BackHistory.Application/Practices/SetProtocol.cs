using BackHistory.History;
using BackHistory.History.Practices;

namespace BackHistory.Application.Practices;

/// <summary>At which stations the practice traces: a new version of its protocol.</summary>
public sealed class SetProtocol(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(IReadOnlyList<Station> Stations);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state => PracticeDecider.Decide(state, new ChangeProtocol(input.Stations, by.Context.Actor), by.Context.Now),
            ct
        );
}
