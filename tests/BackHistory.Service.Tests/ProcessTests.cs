using System.Globalization;
using System.Net;
using System.Text.Json;

namespace BackHistory.Service.Tests;

/// <summary>The executable itself, killed, stopped and started twice, with its own PostgreSQL and a real mail server.</summary>
public sealed class ProcessTests(StateFolder folder) : IClassFixture<StateFolder>
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    /// <summary>More of them for a long run: <c>BACKHISTORY_TEST_KILLS=50</c>.</summary>
    private static int Kills =>
        int.Parse(Environment.GetEnvironmentVariable("BACKHISTORY_TEST_KILLS") ?? "6", CultureInfo.InvariantCulture);

    [Fact]
    public async Task A_service_that_is_killed_while_it_evaluates_ends_with_one_reminder_and_one_letter_for_every_horse()
    {
        var seed = Environment.ProcessId;
        TestContext.Current.SendDiagnosticMessage($"seed {seed}");
        var chance = new Random(seed);
        // How long it takes from the visit to the letter when nobody interferes: the kills fall on all of that, and a little beyond.
        var from = TimeProvider.System.GetTimestamp();
        List<Guid> horses = [await Opened(await folder.Running(), 0, () => from = TimeProvider.System.GetTimestamp())];
        while (folder.Mail.Letters.IsEmpty)
            await Task.Delay(20);
        var span = TimeProvider.System.GetElapsedTime(from) * 1.2;
        for (var i = 0; i < Kills; i++)
        {
            var service = await folder.Running();
            horses.Add(await Opened(service, i + 1, () => { }));
            await Task.Delay(span * ((i + chance.NextDouble()) / Kills));
            await service.Kill();
            Assert.NotNull(folder.Postgres());
        }

        var left = folder.Postgres();
        var last = await folder.Running();
        Assert.Equal(left, folder.Postgres());
        using var reader = await last.Client();
        foreach (var horse in horses)
            await OneReminderOneLetter(reader, horse, seed);
    }

    [Fact]
    public async Task A_service_that_is_told_to_stop_stops_its_database_and_keeps_every_entry_for_the_next_start()
    {
        Guid horse;
        var service = await folder.Running();
        using (var client = await service.Client())
        {
            horse = await client.Horse("Horse Of Two Starts");
            for (var i = 0; i < 5; i++)
                await LetterTests.Visit(client, horse, -100 + i, 45, 45, TimeProvider.System);
        }

        Assert.NotNull(folder.Postgres());
        Assert.Equal(0, await service.Terminate());
        Assert.Null(folder.Postgres());
        Assert.DoesNotContain("Unhandled", service.Said, StringComparison.Ordinal);

        service = await folder.Running();
        using var again = await service.Client();
        var kept = await (await again.GetAsync($"/api/horses/{horse}")).Json();
        Assert.Equal(5, kept.GetProperty("visits").GetInt32());
        // The horse itself, and five visits with one tracing each.
        Assert.Equal(11, kept.GetProperty("version").GetInt32());
    }

    [Fact]
    public async Task The_folder_of_a_service_with_a_database_of_its_own_lets_that_through_and_nobody_else()
    {
        if (OperatingSystem.IsWindows())
            return;
        await folder.Running();
        Assert.NotNull(folder.Postgres());
        // Run as root, PostgreSQL is another user, let through as a group; by itself it needs no way.
        var way = Environment.IsPrivilegedProcess ? UnixFileMode.GroupExecute : UnixFileMode.None;
        Assert.Equal((UnixFileMode)0b111_000_000 | way, File.GetUnixFileMode(folder.Path));
        if (!Environment.IsPrivilegedProcess)
            return;
        using var stat = System.Diagnostics.Process.Start(
            new System.Diagnostics.ProcessStartInfo("stat", ["-c", "%U:%G", folder.Path])
            {
                RedirectStandardOutput = true,
                UseShellExecute = false,
            }
        )!;
        Assert.Equal("root:postgres", (await stat.StandardOutput.ReadToEndAsync()).Trim());
    }

    [Fact]
    public async Task A_service_that_is_told_to_stop_while_it_starts_leaves_no_database_behind()
    {
        var service = await folder.Running();
        Assert.Equal(0, await service.Terminate());
        await using var starting = folder.Start();
        while (folder.Postgres() is null && !starting.HasExited)
            await Task.Delay(5);
        Assert.Equal(0, await starting.Terminate());

        Assert.Null(folder.Postgres());
    }

    [Fact]
    public async Task A_second_service_on_the_same_folder_is_refused_with_a_sentence_and_the_first_goes_on()
    {
        var first = await folder.Running();
        await using var second = folder.Start();
        Assert.Equal(1, await second.Exit());

        Assert.Equal(
            $"Another BackHistory is using {folder.Path}. Stop it, or set BACKHISTORY_STATE to another folder.",
            second.Said.Trim()
        );
        Assert.NotNull(folder.Postgres());
        using var client = await first.Client();
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/horses")).StatusCode);
    }

    /// <summary>A horse whose saddle was set months ago and whose shoulders open by twelve degrees on its last visit.</summary>
    private static async Task<Guid> Opened(ServiceProcess service, int number, Action visiting)
    {
        using var client = await service.Client();
        var horse = await LetterTests.Fitted(client, await Owner(client, number), $"Killed Horse {number}", TimeProvider.System);
        visiting();
        await LetterTests.Visit(client, horse, -1, 33, 33, TimeProvider.System);
        return horse;
    }

    private static async Task<Guid> Owner(HttpClient client, int number)
    {
        var added = await client.Write(
            HttpMethod.Post,
            "/api/people",
            new
            {
                name = $"Owner Of Horse {number}",
                email = $"owner-{number}@people.invalid",
                role = "owner",
            }
        );
        Assert.Equal(HttpStatusCode.Created, added.StatusCode);
        return (await added.Json()).GetProperty("id").GetGuid();
    }

    private async Task OneReminderOneLetter(HttpClient client, Guid horse, int seed)
    {
        var reminder = await Told(client, horse, seed);
        var letter = Assert.Single(reminder.GetProperty("letters").EnumerateObject());
        var copies = folder.Mail.Letters.Where(l => l.MessageId == $"{Guid.Parse(letter.Name):N}@backhistory.invalid").ToList();
        // Killed between the server's word and its record, a letter goes out again as the same letter.
        Assert.NotEmpty(copies);
        Assert.Single(copies.Select(c => (c.Subject, c.TextBody, c.Date, To: c.To.ToString())).Distinct());
        Assert.Single(
            folder
                .Mail.Letters.Where(l => l.To.ToString() == copies[0].To.ToString())
                .Select(l => l.MessageId)
                .Distinct(StringComparer.Ordinal)
        );

        var timeline = (await (await client.GetAsync($"/api/horses/{horse}/timeline?limit=100")).Json())
            .GetProperty("items")
            .EnumerateArray()
            .Select(t => t.GetProperty("says").GetString()!)
            .ToList();
        Assert.Single(timeline, w => w.StartsWith("Reminder: ", StringComparison.Ordinal));
        Assert.Single(timeline, w => w == "A letter is to be written.");
        Assert.Single(timeline, w => w == "The letter was sent.");
    }

    /// <summary>The horse's one reminder, once its letter is out and the timeline says so.</summary>
    private static async Task<JsonElement> Told(HttpClient client, Guid horse, int seed)
    {
        var from = TimeProvider.System.GetTimestamp();
        while (true)
        {
            var rows = (await (await client.GetAsync($"/api/reminders?horseId={horse}")).Json())
                .GetProperty("items")
                .EnumerateArray()
                .ToList();
            Assert.True(rows.Count <= 1, $"seed {seed}: {rows.Count} reminders for one horse");
            var timeline = await client.GetStringAsync($"/api/horses/{horse}/timeline?limit=100");
            if (rows.Count == 1 && timeline.Contains("The letter was sent.", StringComparison.Ordinal))
                return rows[0];
            Assert.True(
                TimeProvider.System.GetElapsedTime(from) < Patience,
                $"seed {seed}: {(rows.Count == 0 ? "no reminder" : "a reminder but no letter")} after {Patience.TotalMinutes} minutes"
            );
            await Task.Delay(200);
        }
    }
}
