namespace BackHistory.History.Reminders;

/// <summary>When and how people are written to.</summary>
/// <param name="NoAnswerDays">A second person is told when the first has not answered for so long.</param>
/// <param name="LaterDays">Who answers "later" is reminded again after so long.</param>
/// <param name="PassedDays">So long after a booked day without its visit or work the booking counts as passed.</param>
/// <param name="QuietFrom">No letter leaves from this hour on, by the reader's clock; null for the usual one.</param>
/// <param name="QuietUntil">Until this hour; null for the usual one.</param>
/// <param name="DigestOn">The day of the manager's digest.</param>
/// <param name="DigestAt">Its hour, by the practice's clock.</param>
/// <param name="DayListAt">The hour of the fitter's list for the day.</param>
/// <param name="KeepQuiet">Whether there are quiet times at all.</param>
/// <param name="QuietDays">Days on which nobody is written to; null for the usual one.</param>
public sealed record LetterSetting(
    int NoAnswerDays = 10,
    int LaterDays = 21,
    int PassedDays = 2,
    TimeOnly? QuietFrom = null,
    TimeOnly? QuietUntil = null,
    DayOfWeek DigestOn = DayOfWeek.Monday,
    TimeOnly? DigestAt = null,
    TimeOnly? DayListAt = null,
    bool Digest = true,
    bool DayList = true,
    bool KeepQuiet = true,
    IReadOnlyList<DayOfWeek>? QuietDays = null
)
{
    /// <summary>When nobody is written to, as it is in force; null where letters leave at any time.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public QuietTimes? Quiet =>
        KeepQuiet
            ? new QuietTimes(QuietFrom ?? QuietTimes.Usual.From, QuietUntil ?? QuietTimes.Usual.Until, QuietDays ?? QuietTimes.Usual.Days)
            : null;
}
