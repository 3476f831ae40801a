using BackHistory.History.Practices;
using BackHistory.History.Store;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using BackHistory.Service.Trends;
using BackHistory.Service.Web;
using Hangfire;

namespace BackHistory.Service.Practice;

/// <summary>Learning what the practice's horses teach, asked for by a manager and done in the background.</summary>
public static class PriorsApi
{
    internal static IResult Learn(HttpContext http, IBackgroundJobClient jobs)
    {
        if (string.IsNullOrEmpty(http.Request.Headers["Idempotency-Key"])) return Problems.Of(RequestRefusals.NoKey);
        var who = SignedIn.From(http.User);
        var key = NewIds.Of(http, "priors");
        jobs.Enqueue<PriorsJob>(job => job.Run(who.Practice, who.PersonId, key, CancellationToken.None));
        return Results.Accepted("/api/practice");
    }
}

/// <summary>Learns and records. Done twice under one key it is recorded once.</summary>
public sealed class PriorsJob(Learning learning, PracticeQueries practices, Commands commands, Watchers watchers, TimeProvider time)
{
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 3)]
    public async Task Run(string practice, Guid actor, Guid key, CancellationToken ct)
    {
        if (await practices.Load(practice, ct) is not { } known) return;
        if (await learning.Learn(practice, PracticeClock.Today(known, time), ct) is not { } priors) return;
        var now = time.GetUtcNow();
        var context = new CommandContext(practice, actor, $"priors:{key}", "", null, now);
        await commands.Execute<History.Practices.Practice>(context, known.Id, state => PracticeDecider.Decide(state, new AdoptPriors(priors, actor), now), ct);
        watchers.SomethingHappened(practice);
    }
}
