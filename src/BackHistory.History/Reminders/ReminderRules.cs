namespace BackHistory.History.Reminders;

/// <summary>Whether a rule raises reminders, and how readily (all rules of thumb that the practice edits).</summary>
/// <param name="HoldDays">Its ground must still stand so many days after it first appeared; 0 raises at once.</param>
/// <param name="QuietDays">A reminder that somebody closed is not raised again on the same ground within so many days.</param>
public record RuleSetting(bool On = true, int HoldDays = 0, int QuietDays = 90);

/// <param name="UnderYears">Horses younger than this are still growing.</param>
/// <param name="Bar">Probability of a passed threshold from which a growing horse is called in: below the bar of others, since growth
/// goes on in one direction.</param>
public sealed record GrowthSetting(bool On = true, int HoldDays = 0, int QuietDays = 60, double UnderYears = 6, double Bar = 0.35)
    : RuleSetting(On, HoldDays, QuietDays);

/// <param name="WeightPercent">Weight lost within the time, per cent.</param>
/// <param name="AreaPercent">Area lost on both sides within the same time, per cent.</param>
public sealed record FastLossSetting(
    bool On = true,
    int HoldDays = 0,
    int QuietDays = 30,
    double WeightPercent = 5,
    double AreaPercent = 8,
    int WithinDays = 90
) : RuleSetting(On, HoldDays, QuietDays);

/// <param name="AfterDays">So long after an alteration the horse is looked at again.</param>
public sealed record RecheckSetting(bool On = true, int HoldDays = 0, int QuietDays = 90, int AfterDays = 42)
    : RuleSetting(On, HoldDays, QuietDays);

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

/// <summary>When nobody is written to, by the reader's own clock.</summary>
/// <param name="From">From this hour of the evening on.</param>
/// <param name="Until">Until this hour of the morning.</param>
/// <param name="Days">Days that are quiet from their beginning to their end.</param>
public sealed record QuietTimes(TimeOnly From, TimeOnly Until, IReadOnlyList<DayOfWeek> Days)
{
    /// <summary>Evenings, nights and Sundays (rule of thumb).</summary>
    public static QuietTimes Usual { get; } = new(new TimeOnly(19, 0), new TimeOnly(8, 0), [DayOfWeek.Sunday]);
}

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

/// <summary>
/// Which reminders a practice raises, and when people hear of them. Plain data, so that a version of it stands in an event. What the
/// numbers must show is in <see cref="Trends.SinceFit.WatchRules"/>.
/// </summary>
public sealed record ReminderRules
{
    public RuleSetting ShapeChanged { get; init; } = new();

    public RuleSetting SidesUnlike { get; init; } = new();

    public RuleSetting WeightChanged { get; init; } = new();

    public GrowthSetting Growing { get; init; } = new();

    public RuleSetting VetCaution { get; init; } = new();

    public FastLossSetting FastLoss { get; init; } = new();

    public RuleSetting CheckDue { get; init; } = new();

    /// <summary>So long after a visit nobody is called in by the forecast alone: the numbers are as good then as another visit would make
    /// them (rule of thumb).</summary>
    public int ForecastPauseDays { get; init; } = 28;

    public RuleSetting NoVisit { get; init; } = new();

    public RecheckSetting NotRechecked { get; init; } = new();

    public RuleSetting MeasureAgain { get; init; } = new(QuietDays: 30);

    public LetterSetting Letters { get; init; } = new();

    public PlanningSetting Planning { get; init; } = PlanningSetting.Default;

    public static ReminderRules Default { get; } = new();

    public RuleSetting Of(ReminderRule rule) =>
        rule switch
        {
            ReminderRule.ShapeChanged => ShapeChanged,
            ReminderRule.SidesUnlike => SidesUnlike,
            ReminderRule.WeightChanged => WeightChanged,
            ReminderRule.Growing => Growing,
            ReminderRule.VetCaution => VetCaution,
            ReminderRule.FastLoss => FastLoss,
            ReminderRule.CheckDue => CheckDue,
            ReminderRule.NoVisit => NoVisit,
            ReminderRule.NotRechecked => NotRechecked,
            ReminderRule.MeasureAgain => MeasureAgain,
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "no such rule"),
        };
}
