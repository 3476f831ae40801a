using System.Collections.Concurrent;
using BackHistory.Application.Access;
using BackHistory.Application.People;

namespace BackHistory.Application.Tests;

/// <summary>What acts ask of whoever hosts them, written down and not done.</summary>
internal sealed class Asked : IBackgroundWork, IChangeNotifier, IAccountLetters, ILetterFiles
{
    private readonly ConcurrentQueue<(string What, string Of)> _all = new();

    /// <summary>In order; <c>Of</c> is the practice, or the id of what is meant.</summary>
    public IEnumerable<string> For(string of) => _all.Where(a => a.Of == of).Select(a => a.What);

    public void SomethingHappened(string practice) => Note("happened", practice);

    public void Learn(string practice, Guid actor, Guid key) => Note("learn", practice);

    public void TryRules(string practice, Guid runId) => Note($"try rules {runId}", practice);

    public void GoOnWithImport(string practice, Guid importId) => Note($"import {importId}", practice);

    public void RebuildReadModels(string practice) => Note("rebuild", practice);

    public void Invite(Guid invitationId) => Note("invite", invitationId.ToString());

    public void TellOfSharedHorse(Guid invitationId) => Note("shared", invitationId.ToString());

    public void TellOfKey(Guid accountId, string label) => Note("key", accountId.ToString());

    public void TellOfRecovery(Guid accountId) => Note("recovery", accountId.ToString());

    public int Erase(IReadOnlyList<Guid> letters, IReadOnlyList<Guid> about)
    {
        foreach (var letter in letters)
            Note("erase", letter.ToString());
        foreach (var one in about)
            Note("erase", one.ToString());
        return letters.Count + about.Count;
    }

    private void Note(string what, string of) => _all.Enqueue((what, of));
}
