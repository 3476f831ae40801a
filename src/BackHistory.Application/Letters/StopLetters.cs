using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>A reader wants no more letters of a kind, or wants them after all, by the link that stands in each of them.</summary>
public sealed class StopLetters(PracticeQueries practices) : IAct
{
    /// <summary>The link that stands in each letter is what lets its holder in.</summary>
    public static Right Needs => Right.Hold;

    /// <param name="Again">They are to come again.</param>
    public sealed record Input(Guid PersonId, LetterKind Kind, bool Again = false);

    public Task ByLetter(string practice, Input stop, CancellationToken ct) =>
        practices.Change(
            practice,
            stop.PersonId,
            p =>
                p.Stopped.Contains(stop.Kind) != stop.Again ? p
                : stop.Again ? p with { Stopped = [.. p.Stopped.Where(k => k != stop.Kind)] }
                : p with { Stopped = [.. p.Stopped, stop.Kind] },
            ct
        );
}
