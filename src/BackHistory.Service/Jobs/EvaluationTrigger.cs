using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>Turns words of what happened into evaluations, once for many words that come together.</summary>
internal sealed class EvaluationTrigger(
    ChangeNotifier notifier,
    IBackgroundJobClient jobs,
    TimeProvider time,
    ILogger<EvaluationTrigger> log
) : BackgroundService
{
    private static readonly TimeSpan Gather = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await Trigger(stoppingToken);
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service stops, or never came to serve.
        }
    }

    private async Task Trigger(CancellationToken stoppingToken)
    {
        while (await notifier.Practices.WaitToReadAsync(stoppingToken))
        {
            await Task.Delay(Gather, time, stoppingToken);
            var practices = new HashSet<string>(StringComparer.Ordinal);
            while (notifier.Practices.TryRead(out var practice))
                practices.Add(practice);
            foreach (var practice in practices)
            {
                try
                {
                    jobs.Enqueue<EvaluationJob>(job => job.Run(practice, CancellationToken.None));
                }
                catch (BackgroundJobClientException e)
                {
                    // The recurring job finds what was not evaluated.
                    log.LogWarning(e, "An evaluation could not be queued; the recurring one will do it.");
                }
            }
        }
    }
}
