using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Notes;

namespace BackHistory.Application.Horses;

/// <summary>What was noted of the care is put right, with the reason.</summary>
public sealed class CorrectCareNote(NotifyingCommands commands, NoteQueries notes) : IAct
{
    public static Right Needs => Right.Fit;

    /// <param name="Words">As they were, where nothing is said.</param>
    /// <param name="About">The people of whom they tell; as they were, where nothing is said.</param>
    public sealed record Input(
        Guid HorseId,
        Guid NoteId,
        CareKind Kind,
        DateOnly From,
        DateOnly? Until,
        string? Words,
        IReadOnlyList<Guid>? About,
        string Reason
    );

    public async Task<Outcome> Do(Input given, Caller by, CancellationToken ct)
    {
        var context = by.Context;
        var (words, about) = (given.Words, given.About);
        if (words is not null || about is not null)
        {
            // Of whom the words tell stays until somebody says otherwise, and so do the words: an erasure goes by it.
            var kept = await notes.Load(context.Tenant, [given.NoteId], ct) is [var found] ? found : null;
            (words, about) = (words ?? kept?.Words, about ?? kept?.About);
        }

        var correct = new CorrectCare(given.NoteId, given.Kind, given.From, given.Until, given.Reason, context.Actor, words, about);
        return await commands.Execute<Horse>(context, given.HorseId, horse => HorseDecider.Decide(horse, correct, context.Now), ct);
    }
}
