namespace BackHistory.History.Reminders;

/// <summary>
/// A reminder's id follows from its horse, saddle and rule and from how many of that kind came before it: two evaluations that find the
/// same reason at once start the same stream, and one of them loses.
/// </summary>
public static class ReminderIds
{
    /// <param name="earlier">Reminders of this kind that the horse had before.</param>
    public static Guid IdFor(string tenant, Guid horseId, Guid? saddleId, ReminderRule rule, int earlier) =>
        DeterministicId.From(
            "reminder",
            tenant,
            horseId.ToString(),
            saddleId?.ToString() ?? "-",
            rule.ToString(),
            earlier.ToString(System.Globalization.CultureInfo.InvariantCulture)
        );

    /// <param name="earlier">Letters of this kind that the reminder has written to this person before.</param>
    public static Guid LetterOf(Guid reminderId, LetterKind kind, Guid to, int earlier = 0) =>
        earlier == 0
            ? DeterministicId.From("letter", reminderId.ToString(), kind.ToString(), to.ToString())
            : DeterministicId.From(
                "letter",
                reminderId.ToString(),
                kind.ToString(),
                to.ToString(),
                earlier.ToString(System.Globalization.CultureInfo.InvariantCulture)
            );
}
