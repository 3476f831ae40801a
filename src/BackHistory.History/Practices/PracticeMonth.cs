using System.Globalization;

namespace BackHistory.History.Practices;

/// <summary>
/// How much the practice recorded in one month of UTC: a read model. It goes by the clock of recording, so what is entered or corrected
/// late does not change a month that is over.
/// </summary>
/// <param name="Id">The month as yyyy-MM.</param>
/// <param name="Events">Ordered by event.</param>
public sealed record PracticeMonth(string Id, IReadOnlyList<EventsOfMonth> Events)
{
    public int Count(params ReadOnlySpan<string> events)
    {
        var sum = 0;
        foreach (var e in Events)
            if (events.Contains(e.Event))
                sum += e.Times;
        return sum;
    }

    internal static string MonthOf(DateTimeOffset recorded) =>
        ZoneClock.Day(recorded, TimeZoneInfo.Utc).ToString("yyyy-MM", CultureInfo.InvariantCulture);

    /// <summary>One event more, or several of one kind.</summary>
    internal static PracticeMonth Fold(PracticeMonth? month, string id, string alias, int times = 1) =>
        new(
            id,
            [
                .. (month?.Events ?? [])
                    .Append(new EventsOfMonth(alias, times))
                    .GroupBy(e => e.Event, (e, all) => new EventsOfMonth(e, all.Sum(a => a.Times)), StringComparer.Ordinal)
                    .OrderBy(e => e.Event, StringComparer.Ordinal),
            ]
        );
}
