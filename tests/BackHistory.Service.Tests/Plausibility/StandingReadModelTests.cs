using System.Net;
using BackHistory.Store;
using BackHistory.Store.Rebuilds;
using Marten.Events.Daemon.Coordination;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace BackHistory.Service.Tests.Plausibility;

/// <summary>Readiness is red while a read model stands still, and says which.</summary>
public sealed class StandingReadModelTests(SeparatePractices practices) : IClassFixture<SeparatePractices>
{
    private const string Level = " 0 behind";

    private static readonly TimeSpan OverAMinute = TimeSpan.FromSeconds(61);

    [Fact]
    public async Task A_read_model_that_stands_behind_the_history_for_a_minute_turns_readiness_red_until_it_moves_again()
    {
        using var client = practices.Host.Client(SeparatePractices.Neighbour);
        await practices.NeighbourGoesOn();
        await using (var connection = await practices.Database.OpenConnectionAsync())
        {
            await using var transaction = await connection.BeginTransactionAsync();
            // Nothing can be written to this one table: its shard waits, and the others go on.
            await using var command = new NpgsqlCommand("lock table history.mt_doc_visitrecord in exclusive mode", connection);
            await command.ExecuteNonQueryAsync();
            var horse = await client.Horse("Waits");
            await client.Write(HttpMethod.Post, $"/api/horses/{horse}/visits", SeparatePractices.Visit(ClientExtensions.Section(45, 41)));
            await OthersFollowed();
            await Until(client, "/health/summary", s => s.Status == HttpStatusCode.OK && !s.Text.EndsWith(Level, StringComparison.Ordinal));

            // Behind for a moment is how a read model lives.
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready")).StatusCode);
            practices.Time.Forward(OverAMinute);
            var ready = await Until(client, "/health/ready", s => s.Status == HttpStatusCode.ServiceUnavailable);
            Assert.Contains("VisitRecord", ready, StringComparison.Ordinal);
            Assert.DoesNotContain("Timeline", ready, StringComparison.Ordinal);
            var summary = await client.GetAsync("/health/summary");
            Assert.Equal(HttpStatusCode.ServiceUnavailable, summary.StatusCode);
            Assert.Contains("VisitRecord", await summary.Content.ReadAsStringAsync(), StringComparison.Ordinal);
            // The service goes on serving what it has: red is for whoever watches it.
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/api/horses/{horse}")).StatusCode);
        }

        await practices.Followed();
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready")).StatusCode);
        Assert.EndsWith(Level, await client.GetStringAsync("/health/summary"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_daemon_that_stopped_altogether_turns_readiness_red_though_nothing_counts_the_new_events()
    {
        using var client = practices.Host.Client(SeparatePractices.Neighbour);
        await practices.NeighbourGoesOn();
        var daemon = practices.Host.Services.GetRequiredService<IProjectionCoordinator<IWholeHistory>>();
        await daemon.PauseAsync();
        try
        {
            await client.Horse("Nobody Counts");
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready")).StatusCode);
            practices.Time.Forward(OverAMinute);
            var ready = await client.GetAsync("/health/ready");
            Assert.Equal(HttpStatusCode.ServiceUnavailable, ready.StatusCode);
            Assert.Contains("stand still", await ready.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
        finally
        {
            await daemon.ResumeAsync();
        }

        await practices.Followed();
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/ready")).StatusCode);
    }

    /// <summary>Everything but the visits has seen every event.</summary>
    private async Task OthersFollowed()
    {
        var progress = practices.Host.Services.GetRequiredService<Progress>();
        var whole = practices.Host.Services.GetRequiredService<IWholeHistory>();
        for (var i = 0; ; i++)
        {
            // What follows from a visit is written a moment after it.
            var last = await progress.Last(CancellationToken.None);
            var lag = await Rebuilding.Lag(whole, CancellationToken.None);
            if (lag.All(l => (l.Position == last) == (l.Name != "VisitRecord")))
                return;
            Assert.True(i < 400, $"of {last}: {string.Join(", ", lag)}");
            await Task.Delay(50);
        }
    }

    private static async Task<string> Until(HttpClient client, string path, Func<(HttpStatusCode Status, string Text), bool> good)
    {
        for (var i = 0; ; i++)
        {
            using var answer = await client.GetAsync(path);
            var said = (answer.StatusCode, await answer.Content.ReadAsStringAsync());
            if (good(said))
                return said.Item2;
            Assert.True(i < 400, $"{path} still says {said}");
            await Task.Delay(50);
        }
    }
}
