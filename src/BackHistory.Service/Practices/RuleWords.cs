using BackHistory.History.Reminders;

namespace BackHistory.Service.Practices;

/// <summary>When each rule raises a reminder, for whoever switches it.</summary>
internal static class RuleWords
{
    public static IReadOnlyList<(ReminderRule Rule, string Key, string Words)> All { get; } =
    [
        (ReminderRule.VetCaution, "vetCaution", "one side has lost muscle fast: to the vet, and no letter about a refit"),
        (ReminderRule.FastLoss, "fastLoss", "weight and back are lost fast: to the vet first"),
        (ReminderRule.ShapeChanged, "shapeChanged", "the back has changed since the saddle was set"),
        (ReminderRule.SidesUnlike, "sidesUnlike", "the two sides have grown unlike"),
        (ReminderRule.WeightChanged, "weightChanged", "weight or condition has changed"),
        (ReminderRule.Growing, "growing", "a young horse is growing"),
        (ReminderRule.NotRechecked, "notRechecked", "the saddle was altered and nobody looked again"),
        (ReminderRule.CheckDue, "checkDue", "the calendar says so"),
        (ReminderRule.NoVisit, "noVisit", "no visit is on record"),
        (ReminderRule.MeasureAgain, "measureAgain", "the tracings are too poor to judge: measure again"),
    ];
}
