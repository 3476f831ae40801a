using BackHistory.Application.Reminders;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders.Planning;

namespace BackHistory.Service.Reminders;

/// <summary>One visit of a day as the plan shows it: booked, or proposed.</summary>
/// <param name="Proposed">Null where it is booked.</param>
/// <param name="KmFromLast">From the yard before it on the same day, in a straight line; null where that is not known.</param>
public sealed record PlanItem(TimeOnly At, Guid HorseId, Yard? Yard, ProposedVisit? Proposed, double? KmFromLast)
{
    /// <summary>The days of a plan in order, each fitter's by itself.</summary>
    public static IReadOnlyList<PlanDay> DaysOf(NamedPlan plan)
    {
        var visits = plan
            .Booked.Select(r =>
            {
                var at = ZoneClock.At(r.BookedFor!.Value, plan.Zone).DateTime;
                return (On: DateOnly.FromDateTime(at), r.Fitter, At: TimeOnly.FromDateTime(at), r.HorseId, Visit: (ProposedVisit?)null);
            })
            .Concat(plan.Proposal.Stops.SelectMany(s => s.Visits.Select(v => (s.On, s.Fitter, v.At, v.HorseId, Visit: (ProposedVisit?)v))));
        return
        [
            .. visits
                .GroupBy(v => (v.On, v.Fitter))
                .OrderBy(g => g.Key.On)
                .ThenBy(g => g.Key.Fitter is { } f ? plan.People.GetValueOrDefault(f) : null, StringComparer.CurrentCulture)
                .Select(g => new PlanDay(g.Key.On, g.Key.Fitter, InOrder(plan, [.. g.Select(v => (v.At, v.HorseId, v.Visit))]))),
        ];
    }

    private static IReadOnlyList<PlanItem> InOrder(NamedPlan plan, IReadOnlyList<(TimeOnly At, Guid Horse, ProposedVisit? Visit)> visits)
    {
        var items = new List<PlanItem>();
        foreach (var (at, horse, visit) in visits.OrderBy(v => v.At).ThenBy(v => v.Horse))
        {
            var yard = plan.YardOf(horse);
            var last = items.LastOrDefault()?.Yard;
            items.Add(new PlanItem(at, horse, yard, visit, yard is not null && last?.Id != yard.Id ? StraightLine.Km(last, yard) : null));
        }

        return items;
    }
}
