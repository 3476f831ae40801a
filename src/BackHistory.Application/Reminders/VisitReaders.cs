using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Reminders;

/// <summary>Who of the practice is written to when a reader moves or cancels a visit: whoever goes, and the manager, who acts on what is
/// open then.</summary>
public sealed class VisitReaders(PracticeQueries practices)
{
    /// <param name="reader">Who did it: nobody is told of what they did themselves.</param>
    public async Task<IReadOnlyList<Guid>> Of(Held held, string practice, Reminder reminder, Guid reader, CancellationToken ct)
    {
        var goes = BookedTime.Goes(reminder.Fitter, await practices.InRole(practice, PersonRole.Fitter, ct));
        var acts = (await held.FirstInRole(PersonRole.Manager))?.Id;
        return [.. new[] { goes, acts }.OfType<Guid>().Where(id => id != reader).Distinct()];
    }
}
