using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store.Events;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Projections;

/// <summary>Counts every event of the practice into the month in which it was recorded.</summary>
public sealed partial class PracticeMonthProjection : MultiStreamProjection<PracticeMonth, string>
{
    public PracticeMonthProjection()
    {
        Name = nameof(PracticeMonth);
        Identity<IEvent<IHappened>>(e => PracticeMonth.MonthOf(e.Timestamp));
    }

    public override PracticeMonth? Evolve(PracticeMonth? snapshot, string id, IEvent e) =>
        PracticeMonth.Fold(snapshot, id, EventAliases.AliasOf(e.Data));
}
