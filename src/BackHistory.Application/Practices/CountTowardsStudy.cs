using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Practices;

/// <summary>A visit at which something was traced again and again counts towards a guided study.</summary>
public sealed class CountTowardsStudy(PracticeWork practice, HorseQueries horses) : IAct
{
    private static readonly Refused NothingRepeated = new(
        "nothing-repeated",
        "Nothing was taken twice at this visit. Lift the ruler, let the horse walk off, place everything anew and trace the same "
            + "stations again into the same visit.",
        Place: "visitId"
    );

    public static Right Needs => Right.Enter;

    public sealed record Input(Guid StudyId, Guid HorseId, Guid VisitId);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (await horses.Visit(by.Context.Tenant, input.HorseId, input.VisitId, ct) is not { Withdrawn: false } visit)
            return new Outcome(Guid.Empty, 0, 0, HorseRefusals.NoSuchVisit);
        // How often something was taken in one visit is the same by every clock.
        if (!Repeats.RepeatsIn([visit], TimeZoneInfo.Utc).Any(m => m.Visit.Tracings.Count > 1))
            return new Outcome(Guid.Empty, 0, 0, NothingRepeated);
        var count = new CountVisit(input.StudyId, input.HorseId, input.VisitId, by.Context.Actor);
        return await practice.Decide(
            by.Context,
            async held =>
            {
                var horse = await held.Stream<Horse>(input.HorseId);
                // The read model may be behind: withdrawn by now, the visit counts for nothing.
                var stands = horse?.Visits.GetValueOrDefault(input.VisitId) is { Withdrawn: false };
                return state => stands ? PracticeDecider.Decide(state, count, by.Context.Now) : HorseRefusals.NoSuchVisit;
            },
            ct
        );
    }
}
