using System.Text.Json;
using BackHistory.Service.Archives;
using BackHistory.Service.Imports;
using BackHistory.Service.Practices;
using BackHistory.Service.Tests.Reminders;
using Hangfire;
using Hangfire.Common;
using Hangfire.States;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>Jobs that wait in the store while the service is replaced by a newer release.</summary>
public sealed class StoredJobTests(RunningService service)
{
    /// <summary>Names as earlier releases wrote them; the jobs of these folders are all that there were.</summary>
    [Theory]
    [InlineData("BackHistory.Service.Archive.RebuildJob", typeof(RebuildJob), nameof(RebuildJob.Run))]
    [InlineData("BackHistory.Service.Practice.LearningJob", typeof(LearningJob), nameof(LearningJob.Run))]
    [InlineData("BackHistory.Service.Archive.WebhookJob", typeof(WebhookJob), nameof(WebhookJob.Run))]
    public async Task A_job_that_waits_under_its_type_s_old_name_runs_after_an_upgrade(string before, Type now, string method)
    {
        var jobs = service.Services.GetRequiredService<IBackgroundJobClient>();
        var job = new Job(now, now.GetMethod(method)!, RunningService.Mine, CancellationToken.None);
        // Not yet to be taken up: it waits as if the service were being replaced.
        var id = jobs.Create(job, new ScheduledState(TimeSpan.FromDays(1)));
        await Rename(id, now.FullName!, before);

        Assert.True(jobs.Requeue(id));

        await Given.Wait(async () => await StateOf(id) is "Succeeded" or "Failed" ? id : null);
        Assert.Equal("Succeeded", await StateOf(id));
        Assert.Equal(before, await TypeOf(id));
    }

    [Fact]
    public void A_job_that_was_never_renamed_is_found_under_its_own_name() =>
        Assert.Equal(typeof(ImportJob), Jobs.JobTypes.Find($"{typeof(ImportJob).FullName}, {typeof(Host).Assembly.GetName().Name}"));

    [Fact]
    public void An_import_that_waits_under_its_old_name_is_found() =>
        Assert.Equal(typeof(ImportJob), Jobs.JobTypes.Find("BackHistory.Service.Import.ImportJob, BackHistory.Service"));

    private async Task Rename(string id, string now, string before)
    {
        await using var rename = service
            .Database()
            .CreateCommand("update jobs.job set invocationdata = replace(invocationdata::text, $2, $3)::jsonb where id = $1");
        rename.Parameters.AddWithValue(long.Parse(id, System.Globalization.CultureInfo.InvariantCulture));
        rename.Parameters.AddWithValue(now);
        rename.Parameters.AddWithValue(before);
        Assert.Equal(1, await rename.ExecuteNonQueryAsync());
    }

    private Task<string?> StateOf(string id) => Ask(id, "select statename from jobs.job where id = $1");

    private async Task<string> TypeOf(string id)
    {
        var invocation = JsonDocument.Parse((await Ask(id, "select invocationdata::text from jobs.job where id = $1"))!).RootElement;
        var type = invocation.TryGetProperty("Type", out var whole) ? whole : invocation.GetProperty("t");
        return type.GetString()!.Split(',')[0];
    }

    private async Task<string?> Ask(string id, string question)
    {
        await using var command = service.Database().CreateCommand(question);
        command.Parameters.AddWithValue(long.Parse(id, System.Globalization.CultureInfo.InvariantCulture));
        return (string?)await command.ExecuteScalarAsync();
    }
}
