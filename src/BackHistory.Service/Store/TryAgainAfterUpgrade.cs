using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Store;

/// <summary>Once after every upgrade, behind the living service: what an earlier release set aside is tried again.</summary>
internal sealed class TryAgainAfterUpgrade(SetAsideRetry retry, ILogger<TryAgainAfterUpgrade> log) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await retry.Run(SetAsideRetry.ThisRelease, stoppingToken);
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // Told to stop: the next start tries.
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            log.LogError(e, "What was set aside could not be tried again; the next start tries once more.");
        }
    }
}
