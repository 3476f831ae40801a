using BackHistory.Service.Practices;
using BackHistory.Store.Practices;
using Hangfire;

namespace BackHistory.Service.Jobs;

/// <summary>What recurs for every practice, in its own time zone.</summary>
public sealed class Schedule(KnownPractices practices, IRecurringJobManager jobs)
{
    public async Task Keep(CancellationToken ct)
    {
        jobs.AddOrUpdate<DeliveryReportsJob>("delivery-reports", job => job.Run(CancellationToken.None), "*/2 * * * *");
        foreach (var practice in await practices.All(ct))
            Keep(practice);
    }

    public void Keep(KnownPractice practice)
    {
        var options = new RecurringJobOptions
        {
            TimeZone = TimeZoneInfo.FindSystemTimeZoneById(practice.TimeZone),
            // After an outage once, not once for every time that was missed.
            MisfireHandling = MisfireHandlingMode.Relaxed,
        };
        var id = practice.Id;
        jobs.AddOrUpdate<EvaluationJob>($"evaluate:{id}", job => job.Run(id, CancellationToken.None), "*/10 * * * *", options);
        jobs.AddOrUpdate<Horses.MergeJob>($"merges:{id}", job => job.Run(id, CancellationToken.None), "*/10 * * * *", options);
        jobs.AddOrUpdate<LearningJob>($"learn:{id}", job => job.Run(id, CancellationToken.None), "17 3 * * 0", options);
        jobs.AddOrUpdate<Archives.WebhookJob>($"webhooks:{id}", job => job.Run(id, CancellationToken.None), "* * * * *", options);
        jobs.AddOrUpdate<LetterJob>($"letters:{id}", job => job.Run(id, CancellationToken.None), "*/2 * * * *", options);
    }
}
