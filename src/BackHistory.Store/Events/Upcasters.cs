using System.Globalization;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Reminders;
using BackHistory.Store.Setup;
using Marten.Events;

namespace BackHistory.Store.Events;

/// <summary>
/// Events that changed shape: how they lay in the store before, and what they mean today. Their bytes stay as they were written; they are
/// read as today's.
/// </summary>
internal static class Upcasters
{
    /// <summary>Earlier aliases, and the event as which each is read now.</summary>
    public static IReadOnlyDictionary<string, Type> ReadAs { get; } =
        new Dictionary<string, Type>(StringComparer.Ordinal)
        {
            ["work_changed"] = typeof(WorkChanged),
            ["reminder_answered"] = typeof(ReminderAnswered),
        };

    public static void Map(IEventStoreOptions events)
    {
        events.Upcast<WorkChanged1, WorkChanged>("work_changed", Today);
        events.Upcast<ReminderAnswered1, ReminderAnswered>("reminder_answered", Today);
    }

    /// <summary>Spans of work had no name: it follows from what was said, so that it is the same at every reading. Within one horse that
    /// is enough.</summary>
    public static WorkChanged Today(WorkChanged1 e) =>
        new(
            DeterministicId.From("work", e.TakenAt.ToString("O", CultureInfo.InvariantCulture), e.Load.ToString(), e.Discipline ?? ""),
            e.Load,
            e.Discipline,
            null,
            e.TakenAt,
            e.By
        );

    /// <summary>An owner's words stood in the event, where they could not be erased. <see cref="StoreMigrations"/> puts them into a note of
    /// this id.</summary>
    public static ReminderAnswered Today(ReminderAnswered1 e) =>
        new(e.HorseId, e.Answer, string.IsNullOrWhiteSpace(e.Words) ? null : NoteOf(e), e.TakenAt, e.By);

    public static Guid NoteOf(ReminderAnswered1 e) =>
        DeterministicId.From("answer", e.HorseId.ToString(), e.TakenAt.ToString("O", CultureInfo.InvariantCulture), e.By.ToString());
}

/// <summary>Version 1: without a name for the span, and without hours.</summary>
internal sealed record WorkChanged1(WorkLoad Load, string? Discipline, DateTimeOffset TakenAt, Guid By);

/// <summary>Version 1: with the words themselves.</summary>
internal sealed record ReminderAnswered1(Guid HorseId, Answer Answer, string? Words, DateTimeOffset TakenAt, Guid By);
