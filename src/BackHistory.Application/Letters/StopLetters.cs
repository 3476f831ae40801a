using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>A reader wants no more letters of a kind, by the link that stands in each of them.</summary>
public sealed class StopLetters(PracticeQueries practices) : IAct
{
    /// <summary>The link that stands in each letter is what lets its holder in.</summary>
    public static Right Needs => Right.Hold;

    public sealed record Input(Guid PersonId, LetterKind Kind);

    public Task ByLetter(string practice, Input stop, CancellationToken ct) =>
        practices.Change(
            practice,
            stop.PersonId,
            p => p.Stopped.Contains(stop.Kind) ? p : p with { Stopped = [.. p.Stopped, stop.Kind] },
            ct
        );
}
