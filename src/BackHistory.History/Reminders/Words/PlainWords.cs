namespace BackHistory.History.Reminders;

/// <summary>
/// What a reminder says to somebody who knows the horse and not the measures: one plain sentence in their language. No number of
/// statistics stands in it; those are shown apart, for those who want them.
/// </summary>
public static class PlainWords
{
    /// <param name="language">Of the reader, for example <c>de</c>; one that is not known here is answered in English.</param>
    public static string Of(ReminderRule rule, Evidence evidence, string horse, string language) =>
        language switch
        {
            "de" => German.Of(rule, evidence, horse),
            _ => English.Of(rule, evidence, horse),
        };
}
