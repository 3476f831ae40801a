using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Imports;

namespace BackHistory.Service.Imports;

/// <param name="HeldUntil">Until then the calendar calls none of its horses in; null where it has none, or calls them in again.</param>
public sealed record ImportAnswer(
    Guid Id,
    string Name,
    int Generation,
    DateTimeOffset At,
    Guid By,
    string? File,
    string? Sheet,
    ImportState State,
    ImportPlan? Plan,
    int Lines,
    ImportCounts Counts,
    ImportCounts TakenBack,
    DateTimeOffset? EnteredAt,
    DateTimeOffset? HeldUntil
)
{
    internal static ImportAnswer From(Import i, DateTimeOffset now) =>
        new(
            i.Id,
            i.Name,
            i.Generation,
            i.At,
            i.By,
            i.File,
            i.Sheet,
            i.State,
            i.Plan,
            i.Lines,
            i.Counts,
            i.TakenBack,
            i.EnteredAt,
            Held(i) is { } until && until > now ? until : null
        );

    private static DateTimeOffset? Held(Import i) =>
        i is { State: ImportState.Entered, Plan.Kind: ImportKind.Horses or ImportKind.Visits or ImportKind.SaddleWork, Counts.Entered: > 0 }
            ? i.EnteredAt + Assessing.StillEntering
            : null;
}
