namespace BackHistory.History.Reminders;

/// <summary>Whether rules of reminders that a practice sends can be lived by.</summary>
internal static class ReminderRulesCheck
{
    /// <returns>What is wrong, in a person's words; null when nothing is.</returns>
    public static string? Problem(ReminderRules rules)
    {
        foreach (var rule in Enum.GetValues<ReminderRule>())
        {
            if (rules.SettingOf(rule) is not { HoldDays: >= 0 and <= 365, QuietDays: >= 0 and <= 1000 })
                return "A ground holds for 0 to 365 days, and a closed reminder is quiet for 0 to 1000.";
        }

        if (!(rules.Growing.UnderYears is >= 0 and <= 12 && rules.Growing.Bar is > 0 and < 1))
            return "A growing horse is under 12 years old, and its bar is a probability between 0 and 1.";
        var loss = rules.FastLoss;
        var perCent = ((double[])[loss.WeightPercent, loss.AreaPercent]).All(Plausible.Loss.Holds);
        if (!perCent || loss.WithinDays is < 7 or > 365)
            return $"A fast loss is {Plausible.Loss} within 7 to 365 days.";
        if (rules.ForecastPauseDays is < 0 or > 180)
            return "After a visit the forecast is silent for 0 to 180 days.";
        if (rules.NotRechecked.AfterDays is < 1 or > 365)
            return "An altered saddle is looked at again within 1 to 365 days.";
        return OfLetters(rules.Letters) ?? OfPlanning(rules.Planning);
    }

    private static string? OfLetters(LetterSetting letters) =>
        letters.NoAnswerDays is < 1 or > 180 || letters.LaterDays is < 1 or > 365 || letters.PassedDays is < 0 or > 60
            ? "An answer is waited for 1 to 180 days, later means 1 to 365, and a booking passes within 60."
        : letters.QuietFrom is null != letters.QuietUntil is null ? "Quiet hours have a beginning and an end."
        : letters.QuietFrom is { } from && from == letters.QuietUntil ? "Quiet hours that begin when they end would be the whole day."
        : letters.QuietDays?.Distinct().Count() >= 7 ? "Letters need one day of the week on which they may leave."
        : null;

    private static string? OfPlanning(PlanningSetting planning) =>
        planning.WorkDays.Count == 0 ? "Somebody works on at least one day of the week."
        : planning.End <= planning.Start ? "The working day ends after it begins."
        : planning.VisitMinutes is < 5 or > 480 || planning.YardMinutes is < 0 or > 480
            ? "A visit takes 5 to 480 minutes, another yard 0 to 480."
        : planning.FreeDays.Count > 1000 ? "At most 1000 free days are kept."
        : null;
}
