using BackHistory.Application.Letters;
using BackHistory.Service.Configuration;
using BackHistory.Store;
using Hangfire;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>
/// Empties the mailbox folder into which the mail server puts what comes back: a file a message, or a Maildir. A message that is read
/// moves to <c>read</c>, one that says nothing about a letter of ours to <c>other</c>, for a person to look at.
/// </summary>
public sealed class DeliveryReportsJob(
    DeliveryReports reports,
    TakeDeliveryReport take,
    Settings settings,
    AdvisoryLocks turns,
    ILogger<DeliveryReportsJob> log
)
{
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 1)]
    public async Task Run(CancellationToken ct)
    {
        if (settings.Mail.Reports is not { } folder || !Directory.Exists(folder))
            return;
        await using var turn = await turns.TryTake("delivery-reports", ct);
        if (turn is null)
            return;
        var arrived = Path.Combine(folder, "new");
        var files = Directory
            .EnumerateFiles(Directory.Exists(arrived) ? arrived : folder)
            .Where(f => !f.EndsWith(".tmp", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .ToList();
        foreach (var file in files)
        {
            ct.ThrowIfCancellationRequested();
            // Read and then moved: killed in between, it is read once more and changes nothing.
            Move(file, Path.Combine(folder, await Understood(file, ct) ? "read" : "other"));
        }
    }

    private async Task<bool> Understood(string file, CancellationToken ct)
    {
        try
        {
            using var message = await MimeMessage.LoadAsync(file, ct);
            return reports.Read(message) is { } report && await take.FromMailbox(report, ct);
        }
        catch (FormatException e)
        {
            log.LogWarning(e, "A file in the mailbox of delivery reports is no message.");
            return false;
        }
    }

    private static void Move(string file, string folder)
    {
        Directory.CreateDirectory(folder);
        File.Move(file, Path.Combine(folder, Path.GetFileName(file)), overwrite: true);
    }
}
