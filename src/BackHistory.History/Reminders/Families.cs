namespace BackHistory.History.Reminders;

public static class Families
{
    public static ReminderFamily FamilyOf(ReminderRule rule) =>
        rule switch
        {
            ReminderRule.VetCaution or ReminderRule.FastLoss => ReminderFamily.Vet,
            ReminderRule.ShapeChanged or ReminderRule.SidesUnlike or ReminderRule.WeightChanged or ReminderRule.Growing =>
                ReminderFamily.Shape,
            ReminderRule.NotRechecked => ReminderFamily.Recheck,
            ReminderRule.MeasureAgain => ReminderFamily.Again,
            ReminderRule.CheckDue or ReminderRule.NoVisit => ReminderFamily.Calendar,
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "a rule of no family"),
        };

    /// <summary>Two saddles of one horse are two fits; everything else is about the horse.</summary>
    public static bool OfOneSaddle(ReminderFamily family) => family is ReminderFamily.Shape or ReminderFamily.Recheck;
}
