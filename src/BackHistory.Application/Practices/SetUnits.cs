using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Trends.SinceFit;

namespace BackHistory.Application.Practices;

/// <summary>In what lengths and heights are shown; nothing stored changes.</summary>
public sealed class SetUnits(PracticeWork practice) : IAct
{
    public static Right Needs => Right.Manage;

    public sealed record Input(LengthUnit Lengths, HeightUnit Heights);

    public Task<Outcome> Do(Input input, Caller by, CancellationToken ct) =>
        practice.Decide(
            by.Context,
            state => PracticeDecider.Decide(state, new ChooseDisplayUnits(input.Lengths, input.Heights, by.Context.Actor), by.Context.Now),
            ct
        );
}
