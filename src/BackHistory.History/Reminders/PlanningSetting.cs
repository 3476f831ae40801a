namespace BackHistory.History.Reminders;

/// <summary>The working week, for proposals of visits.</summary>
/// <param name="WorkDays">Days on which fitters drive out.</param>
/// <param name="VisitMinutes">One horse.</param>
/// <param name="YardMinutes">Reaching and setting up at one more yard.</param>
/// <param name="FreeDays">Days on which nobody works.</param>
public sealed record PlanningSetting(
    IReadOnlyList<DayOfWeek> WorkDays,
    TimeOnly Start,
    TimeOnly End,
    int VisitMinutes,
    int YardMinutes,
    IReadOnlyList<DateOnly> FreeDays
)
{
    public static PlanningSetting Default { get; } =
        new(
            [DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday, DayOfWeek.Friday],
            new TimeOnly(9, 0),
            new TimeOnly(17, 0),
            60,
            40,
            []
        );
}
