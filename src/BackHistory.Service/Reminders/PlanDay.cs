namespace BackHistory.Service.Reminders;

/// <summary>One fitter's day of a plan.</summary>
/// <param name="Fitter">Null where nobody is named.</param>
/// <param name="Items">In order of time.</param>
public sealed record PlanDay(DateOnly On, Guid? Fitter, IReadOnlyList<PlanItem> Items)
{
    public int Proposed => Items.Count(i => i.Proposed is not null);

    public int Booked => Items.Count - Proposed;

    /// <summary>The sum of what is known between the yards of the day; null where nothing is.</summary>
    public double? Km => Items.Any(i => i.KmFromLast is not null) ? Items.Sum(i => i.KmFromLast ?? 0) : null;

    /// <summary>The earliest day by which one of its proposed visits is due.</summary>
    public DateOnly? MostUrgent => Items.Where(i => i.Proposed is not null).Min(i => (DateOnly?)i.Proposed!.Due);
}
