using BackHistory.History.Reminders;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Letters;

/// <summary>A reader wants no more letters of a kind, by the link that stands in each of them.</summary>
public sealed class StopLetters(PracticeQueries practices) : IAct
{
    /// <summary>Of the practice's people; a reader's right is the link that they hold.</summary>
    public static Right Needs => Right.Manage;

    public sealed record Input(Guid PersonId, LetterKind Kind);

    public Task ByLetter(string practice, Input stop, CancellationToken ct) =>
        practices.Change(
            practice,
            stop.PersonId,
            p => p.Stopped.Contains(stop.Kind) ? p : p with { Stopped = [.. p.Stopped, stop.Kind] },
            ct
        );
}
