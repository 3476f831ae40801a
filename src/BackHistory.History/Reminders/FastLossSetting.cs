namespace BackHistory.History.Reminders;

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
