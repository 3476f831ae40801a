using System.Net;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Imports;
using BackHistory.Service.Jobs;
using BackHistory.Service.Tests.Plausibility;
using BackHistory.Service.Tests.Reminders;
using BackHistory.Store.Reminders;
using Hangfire;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>The real job server: what takes long in one queue holds back nothing of another.</summary>
public sealed class QueueTests(SeparatePractices practices) : IClassFixture<SeparatePractices>
{
    private const string Practice = SeparatePractices.Poisoned;

    /// <summary>More than the service has workers in all its queues.</summary>
    private const int Many = 12;

    [Fact]
    public Task Imports_that_occupy_all_their_workers_do_not_hold_back_a_letter() =>
        ALetterLeavesWhile<ImportJob>(
            "import",
            jobs => jobs.Enqueue<ImportJob>(job => job.Run(Practice, Guid.NewGuid(), CancellationToken.None))
        );

    [Fact]
    public Task Evaluations_that_occupy_all_their_workers_do_not_hold_back_a_letter() =>
        ALetterLeavesWhile<EvaluationJob>(
            "evaluationrun",
            jobs => jobs.Enqueue<EvaluationJob>(job => job.Run(Practice, CancellationToken.None))
        );

    [Fact]
    public async Task Imports_of_one_practice_that_wait_for_their_turn_leave_a_worker_to_another_practice()
    {
        var jobs = practices.Host.Services.GetRequiredService<IBackgroundJobClient>();
        var locks = practices.Host.Services.GetRequiredService<BackHistory.Store.AdvisoryLocks>();
        await using (await locks.Take($"import:{Practice}", CancellationToken.None))
        {
            for (var i = 0; i < Many; i++)
                jobs.Enqueue<ImportJob>(job => job.Run(Practice, Guid.NewGuid(), CancellationToken.None));
            var other = jobs.Enqueue<ImportJob>(job => job.Run(SeparatePractices.Neighbour, Guid.NewGuid(), CancellationToken.None));
            await Given.Wait(async () => await StateOf(other) is "Succeeded" ? other : null);
        }
    }

    [Fact]
    public void Every_queue_that_a_job_names_has_workers_of_its_own() =>
        Assert.Equal(
            typeof(Host)
                .Assembly.GetTypes()
                .SelectMany(t => t.GetMethods())
                .SelectMany(m => m.GetCustomAttributes(typeof(QueueAttribute), inherit: false).Cast<QueueAttribute>())
                .Select(q => q.Queue)
                .Distinct()
                .Order(),
            practices
                .Host.Services.GetRequiredService<JobStorage>()
                .GetMonitoringApi()
                .Servers()
                .Where(s => s.WorkersCount > 0)
                .Select(s => Assert.Single(s.Queues))
                .Distinct()
                .Order()
        );

    private async Task ALetterLeavesWhile<TJob>(string table, Action<IBackgroundJobClient> enqueue)
    {
        var name = $"Owner beside {typeof(TJob).Name}";
        using var client = practices.Host.Client(Practice);
        var owner = await practices.Host.Person(Practice, name, PersonRole.Owner);
        var horse = await LetterTests.Fitted(client, owner, name, practices.Time);
        await LetterTests.Visit(client, horse, -1, 33, 33, practices.Time);
        var told = await Given.Wait(async () =>
            (await Queries.Newest(Practice, [], horse, null, 10, CancellationToken.None)).FirstOrDefault(r =>
                r.Post.Any(l => l.State == LetterState.Sent)
            )
        );
        await using var connection = await practices.Database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        // None of these jobs comes to its end while this table is held.
        await using var hold = connection.CreateCommand();
        hold.CommandText = $"lock table history.mt_doc_{table} in access exclusive mode";
        await hold.ExecuteNonQueryAsync();
        var jobs = practices.Host.Services.GetRequiredService<IBackgroundJobClient>();
        for (var i = 0; i < Many; i++)
            enqueue(jobs);
        await Given.Wait(async () => await Processing(typeof(TJob).Name) > 0 ? "busy" : null);
        var again = await client.Write(HttpMethod.Post, $"/api/reminders/{told.Id}/tell-again", new { });
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);

        practices.Host.Services.GetRequiredService<IRecurringJobManager>().Trigger($"letters:{Practice}");

        await Given.Wait(async () =>
            (await Queries.Load(Practice, told.Id, CancellationToken.None))!.Post.Count(l => l.State == LetterState.Sent) == 2 ? told : null
        );
        Assert.True(await Processing(typeof(TJob).Name) > 0, "the jobs did not occupy their workers");
    }

    private ReminderQueries Queries => practices.Host.Services.GetRequiredService<ReminderQueries>();

    private async Task<long> Processing(string job)
    {
        await using var command = practices.Database.CreateCommand(
            "select count(*) from jobs.job where statename = 'Processing' and invocationdata::text like $1"
        );
        command.Parameters.AddWithValue($"%.{job},%");
        return (long)(await command.ExecuteScalarAsync())!;
    }

    private async Task<string?> StateOf(string id)
    {
        await using var command = practices.Database.CreateCommand("select statename from jobs.job where id = $1");
        command.Parameters.AddWithValue(long.Parse(id, System.Globalization.CultureInfo.InvariantCulture));
        return (string?)await command.ExecuteScalarAsync();
    }
}
