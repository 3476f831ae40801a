namespace BackHistory.History.Reminders;

/// <param name="UnderYears">Horses younger than this are still growing.</param>
/// <param name="Bar">Probability of a passed threshold from which a growing horse is called in: below the bar of others, since growth
/// goes on in one direction.</param>
public sealed record GrowthSetting(bool On = true, int HoldDays = 0, int QuietDays = 60, double UnderYears = 6, double Bar = 0.35)
    : RuleSetting(On, HoldDays, QuietDays);
