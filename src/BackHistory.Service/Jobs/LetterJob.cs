using BackHistory.Application.Letters;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Sends the letters that a practice owes.</summary>
public sealed class LetterJob(KnownPractices known, LetterPost post)
{
    /// <param name="practice">The tenant: an id, nobody's name.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, CancellationToken ct)
    {
        await known.Demand(practice, ct);
        await post.Send(practice, ct);
    }
}
