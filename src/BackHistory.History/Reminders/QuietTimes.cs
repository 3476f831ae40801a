namespace BackHistory.History.Reminders;

/// <summary>When nobody is written to, by the reader's own clock.</summary>
/// <param name="From">From this hour of the evening on.</param>
/// <param name="Until">Until this hour of the morning.</param>
/// <param name="Days">Days that are quiet from their beginning to their end.</param>
public sealed record QuietTimes(TimeOnly From, TimeOnly Until, IReadOnlyList<DayOfWeek> Days)
{
    /// <summary>Evenings, nights and Sundays (rule of thumb).</summary>
    public static QuietTimes Usual { get; } = new(new TimeOnly(19, 0), new TimeOnly(8, 0), [DayOfWeek.Sunday]);
}
