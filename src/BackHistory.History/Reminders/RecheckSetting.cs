namespace BackHistory.History.Reminders;

/// <param name="AfterDays">So long after an alteration the horse is looked at again.</param>
public sealed record RecheckSetting(bool On = true, int HoldDays = 0, int QuietDays = 90, int AfterDays = 42)
    : RuleSetting(On, HoldDays, QuietDays);
