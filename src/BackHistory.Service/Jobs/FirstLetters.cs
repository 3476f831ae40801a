using BackHistory.History.Reminders;
using BackHistory.Store.Reminders;

namespace BackHistory.Service.Jobs;

/// <summary>A practice's first letters wait until somebody looked at them and let them go: nobody is to be written to by
/// surprise.</summary>
public sealed class FirstLetters(ReminderQueries reminders)
{
    /// <summary>More than anybody looks through.</summary>
    private const int Most = 500;

    /// <summary>Whether letters to people outside may leave. A practice that wrote letters before there was such a question has let them
    /// go.</summary>
    public async Task<bool> MayLeave(string tenant, History.Practices.Practice practice, CancellationToken ct) =>
        practice.LettersReleasedAt is not null || await reminders.AnySent(tenant, ct);

    /// <summary>The letters to people outside that are owed and would leave, oldest first.</summary>
    public async Task<IReadOnlyList<Letter>> Waiting(string tenant, CancellationToken ct) =>
        [.. (await reminders.Owed(tenant, Most, ct)).Where(l => !LetterGate.ToStaff(l.Kind))];
}
