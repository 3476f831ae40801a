namespace BackHistory.History.Reminders;

/// <summary>
/// Which reminders a practice raises, and when people hear of them. Plain data, so that a version of it stands in an event. What the
/// numbers must show is in <see cref="Trends.Rules.WatchRules"/>.
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

    public RuleSetting SettingOf(ReminderRule rule) =>
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
