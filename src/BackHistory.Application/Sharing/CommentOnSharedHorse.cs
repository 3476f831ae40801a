using BackHistory.History;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Sharing;
using BackHistory.Store;
using BackHistory.Store.Sharing;

namespace BackHistory.Application.Sharing;

/// <summary>Takes down what somebody outside the practice says about a horse that they are shown.</summary>
public sealed class CommentOnSharedHorse(SharingWork sharing, TimeProvider time) : IAct
{
    public static Right Needs => Right.Hold;

    /// <param name="Practice">Of the link or the grant.</param>
    /// <param name="PersonId">Who writes, where the link or the grant says it.</param>
    /// <param name="LinkId">By which link; either this or <paramref name="GrantId"/>.</param>
    /// <param name="Key">The form's own: sent twice it is one comment.</param>
    public sealed record Input(
        string Practice,
        Guid HorseId,
        Guid? PersonId,
        SharedWith Role,
        Guid? LinkId,
        Guid? GrantId,
        Guid Key,
        string? Words
    );

    public async Task<Outcome> Do(Input input, CancellationToken ct)
    {
        if (SharingDecider.OfWords(input.Words) is { } bad)
            return new Outcome(Guid.Empty, 0, 0, bad);
        var (practice, words, now) = (input.Practice, input.Words!, time.GetUtcNow());
        var by = input.PersonId ?? ReminderPolicy.TheReader;
        var way = (input.LinkId ?? input.GrantId).ToString()!;
        var id = DeterministicId.From("comment", practice, input.HorseId.ToString(), way, input.Key.ToString());
        var comment = new MakeComment(id, input.GrantId, input.LinkId, words, by);
        var context = new CommandContext(practice, by, $"comment:{id}", "", null, now);
        var kept = new Comment(id, input.HorseId, input.PersonId, input.Role, words.Trim(), now);
        // With the event or not at all: sent once more after it was erased, it is not kept again.
        return await sharing.Decide(context, input.HorseId, s => SharingDecider.Decide(s, comment, now).With(kept), ct);
    }
}
